"""What is carried out of the house: a quiz's report on paper, and a trainee's own record.

`quiz` sets out as plain data what the page of a quiz's evidence shows, for the template `quiz.typ` beside it;
`drawings` takes the pages' own plots, so that there is one truth.
Nothing is here that the page it belongs to does not show its reader.
"""
