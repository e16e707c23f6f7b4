"""What many answers say. Plain computation: numbers in, numbers out, no database and no clock.

Whatever rests on too little says so: its result has `enough=False`, or the figure is NaN ("not known"),
or None. What cannot be computed at all is refused with a sentence that names the value and the rule.

**Seeing and calling** (`detection`). Every zone of every exhibit either has a fault in the key or has not,
and was either marked or not. *Sensitivity* d′ is how far apart faulty and sound zones lie in a person's
eye: 0 is guessing, 1 is fair, 3 is very sharp. The *criterion* is how readily the person calls: below 0
they over-fault, above 0 they under-fault. Both are found from two shares: of the faulty zones, how many
were marked; of the sound ones, how many. Half a zone is added to the marked and one to all, so that a
perfect record does not become infinite.

**Agreement** (`agreement`). *Weighted kappa* compares two people's severities: 1 is full agreement, 0 what
would come about if each used the levels as often as they do but without looking. A difference of one level
counts less than one of three. *Krippendorff's alpha* does the same for a whole panel and bears with gaps:
it is 1 less the spread of the ratings of one and the same zone, divided by the spread of all ratings.
*Kendall's W* compares how several people place a class: 1 if all have the same order, 0 if their orders
cancel out. The *bias in weighing* is by how many levels a person weighs above or below the key on average.
Where two people mark the same answers, the *limits of agreement* are the mean difference of their marks and
how far 19 of 20 differences lie from it.

**Items and papers** (`item_analysis`). *Facility* is the mean score of an item: 0.9 is easy, 0.2 hard.
*Discrimination* is the correlation between doing well on the item and doing well on the others: below 0 the
better judges miss it, which often means that its key is wrong. *Upper less lower* is the mean score of the
best 27 of 100 people less that of the worst 27. *Alpha* is the reliability of the paper: how much of the
spread between people would come back with another paper of the same sort. The *standard error of
measurement* is how far a person's score may lie from what they would score on average over such papers.

**The pass mark** (`cut_score`). Each panellist says of each item how probably a barely competent judge gets
it right; the mean over items and then over panellists is the *cut*. A score within one standard error of
measurement of it is *borderline* and is for a person to decide.

**Progress** (`progress`). The share somebody gets right at present, by zone and by part of the answer
(see, name, weigh), from the last 30 answers: with 24 of 30 right, 25 of 32, for one right and one wrong
answer are thought of beforehand. The interval holds the true share nine times in ten; while it is wider
than 0.35 not enough was seen yet. *Review dates* put off what was answered well and bring back what was
missed, by a published model of forgetting.

**Drills** (`drills`). Two pictures, one question. Three right answers in a row make the next pair more alike,
one wrong answer less; the series comes to hover about the difference that is told 79 times in 100. The
*threshold* is the mean of the last six turning points; the *likely range* is what all answers together
allow to say of it.
"""
