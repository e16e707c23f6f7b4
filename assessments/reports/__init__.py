"""What is carried out of the house: a quiz's report on paper, and a trainee's own record on paper and as data.

`quiz` and `record` set out as plain data what the pages show, for the templates `quiz.typ` and `record.typ` beside
them; `drawings` takes the pages' own drawings, so that there is one truth; `record_file` is the record as JSON.
Nothing is here that the page it belongs to does not show its reader.
"""
