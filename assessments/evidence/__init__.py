"""What the answers say of the course: figures for educators, made of counted rows and marks.

Nobody is named here but mentors, and a group of fewer than five people is never broken down. Every figure is
of first sittings: whoever has seen the key tells nothing more about the item. Marks are those by the rules; a
mentor's adjustment changes a mark that counts, not what was seen.

`paper` a quiz and its items, `room` one item, `shares` clauses and zones, `mentors` those who look at answers,
`mix` the exhibits themselves, `plots` where everything stands in a drawing, `words` what it is called.
"""

FEWEST = 5
