"""The rules of fault marks followed by hand, slowly: every matching is tried, every tie kept.

It shares no code with what it checks, and answers with all scores that the rules allow: more than one where
two matchings are worth the same, or a repeat lies equally near to two entries, and they score differently.
"""

from itertools import product

from shapely import Point, Polygon

from . import drawn

EQUAL = 1e-12


def location(mark, entry, rules):
    if entry.region is None:
        return 1.0 if name(mark, entry) > 0 else 0.0
    if mark.x is None:
        return 0.0
    apart = min(Polygon(part).distance(Point(mark.x, mark.y)) for part in entry.region)
    return max(0.0, 1 - apart / rules.tolerance)


def name(mark, entry):
    if mark.fault is None:
        return 0.0
    if mark.fault == entry.fault:
        return 1.0
    if mark.fault in entry.also:
        return entry.also[mark.fault]
    return 0.5 if mark.clause is not None and mark.clause == entry.clause else 0.0


def weigh(mark, entry, ladder):
    if mark.level is None or name(mark, entry) == 0:
        return 0.0
    return 1 - abs(mark.level - entry.level) / (len(ladder.labels) - 1)


def cost(mark, ladder, rules):
    level = rules.unweighed_level if mark.level is None else mark.level
    return rules.false_alarm * ladder.weights[level]


def credit(mark, entry, rules, weighed):
    return location(mark, entry, rules) * (rules.see + rules.name * name(mark, entry) + rules.weigh * weighed)


def matchings(marks, entries, rules):
    """Every way to give marks one entry each, or none, no entry twice: tuples by mark."""
    choices = [[None, *(e for e in range(len(entries)) if location(m, entries[e], rules) > 0)] for m in marks]
    for chosen in product(*choices):
        taken = [entry for entry in chosen if entry is not None]
        if len(set(taken)) == len(taken):
            yield chosen


def worth(chosen, marks, entries, ladder, rules):
    return sum(
        ladder.weights[entries[e].level] * credit(m, entries[e], rules, weigh(m, entries[e], ladder))
        + 1e-6 * cost(m, ladder, rules)
        for m, e in zip(marks, chosen, strict=True)
        if e is not None
    )


def homes(mark, chosen, marks, entries, rules):
    """The entries, equally near, that an unmatched mark may repeat."""
    matched = dict(enumerate_matched(chosen))
    near = [
        entry
        for entry, other in matched.items()
        if location(mark, entries[entry], rules) > 0
        and (mark.fault is None or name(mark, entries[entry]) == 1 or mark.fault == marks[other].fault)
    ]
    best = max((location(mark, entries[entry], rules) for entry in near), default=0)
    return [entry for entry in near if location(mark, entries[entry], rules) >= best - EQUAL]


def enumerate_matched(chosen):
    return [(entry, mark) for mark, entry in enumerate(chosen) if entry is not None]


def all_scores(key, marks, ladder, rules):
    """All scores that the rules allow for marks on a faulty exhibit, each with a little rounding."""
    entries = key.entries
    ways = list(matchings(marks, entries, rules))
    every = [(worth(chosen, marks, entries, ladder, rules), chosen) for chosen in ways]
    best = max(value for value, _ in every)
    scores = set()
    for value, chosen in every:
        if value >= best - EQUAL:
            free = [m for m, entry in enumerate(chosen) if entry is None]
            options = [homes(marks[m], chosen, marks, entries, rules) or [None] for m in free]
            for homed in product(*options):
                repeats = {m: e for m, e in zip(free, homed, strict=True) if e is not None}
                scores.add(round(one_score(chosen, repeats, marks, entries, ladder, rules), 10))
    return scores


def one_score(chosen, repeats, marks, entries, ladder, rules):
    gained = 0.0
    for entry, mark in enumerate_matched(chosen):
        again = [m for m, home in repeats.items() if home == entry and marks[m].level is not None]
        weighed = min(weigh(marks[m], entries[entry], ladder) for m in (mark, *again))
        gained += ladder.weights[entries[entry].level] * credit(marks[mark], entries[entry], rules, weighed)
    alarms = [m for m, entry in enumerate(chosen) if entry is None and m not in repeats]
    lost = sum(cost(marks[m], ladder, rules) for m in alarms)
    score = min(max((gained - lost) / sum(ladder.weights[entry.level] for entry in entries), 0), 1)
    wrong = wrong_about_disqualifying(chosen, repeats, marks, entries, ladder, rules)
    return min(score, rules.disqualifying_cap) if wrong else score


def wrong_about_disqualifying(chosen, repeats, marks, entries, ladder, rules):
    top = len(ladder.labels) - 1
    if not ladder.disqualifying:
        return False
    mark_of = dict(enumerate_matched(chosen))
    for number, entry in enumerate(entries):
        if entry.level == top and (
            number not in mark_of or (rules.weigh > 0 and marks[mark_of[number]].level != top)
        ):
            return True
    for number, mark in enumerate(marks):
        belongs = chosen[number] if chosen[number] is not None else repeats.get(number)
        if mark.level == top and (belongs is None or entries[belongs].level != top):
            return True
    return False


def confusable(key, rules):
    """Whether an exact mark of one entry would earn all that another entry gives without weighing."""
    exact = [(one, drawn.exact(one)) for one in key.entries]
    return any(
        one is not other and location(mark, other, rules) == 1 and name(mark, other) == 1
        for one, mark in exact
        for other in key.entries
    )
