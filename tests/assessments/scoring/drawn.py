"""Keys and answers of every kind, drawn for property tests.

Places lie on a grid of 64ths, which floating point holds exactly, so that a mirrored picture is exactly that,
and dense enough that regions overlap, pins lie on edges, and pins lie alike.
"""

from hypothesis import strategies as st

from assessments.scoring import FaultKey, FaultMark, KeyEntry, MarkingRules, SeverityLadder

GRID = 64
FAULTS = ("upright shoulder", "short upper arm", "roached back", "gay tail")
CLAUSES = ("5.1", "5.2", "6.2")
LADDERS = (
    SeverityLadder(),
    SeverityLadder(disqualifying=False),
    SeverityLadder(("Slight", "Marked", "Grave", "Out"), (1, 3, 4, 5)),
)
RULES = (
    MarkingRules(),
    MarkingRules(see=0.55, name=0.45, weigh=0),
    MarkingRules(tolerance=0.2, false_alarm=0.6, unweighed_level=2),
)

places = st.integers(0, GRID).map(lambda step: step / GRID)
faults, clauses = st.sampled_from(FAULTS), st.sampled_from(CLAUSES)
levels = st.integers(0, 3)
ladders, rules = st.sampled_from(LADDERS), st.sampled_from(RULES)


@st.composite
def boxes(draw):
    left, upper = draw(st.integers(0, GRID - 8)), draw(st.integers(0, GRID - 8))
    right, lower = left + draw(st.integers(2, 8)), upper + draw(st.integers(2, 8))
    corners = ((left, upper), (right, upper), (right, lower), (left, lower))
    return tuple((x / GRID, y / GRID) for x, y in corners)


placed = st.one_of(boxes(), st.lists(boxes(), min_size=2, max_size=2).map(tuple))
regions = st.one_of(placed, placed, st.none())
also = st.dictionaries(faults, st.sampled_from((0.0, 0.5, 1.0)), max_size=2)
entries = st.builds(KeyEntry, regions, faults, clauses, st.just("body"), levels, also)
placed_entries = st.builds(KeyEntry, placed, faults, clauses, st.just("body"), levels, also)
keys = st.lists(entries, min_size=1, max_size=4).map(FaultKey)


@st.composite
def marks_on(draw, key):
    """A mark on an entry of the key, on a corner of it, beside it, anywhere, or on the whole dog."""
    region = draw(st.sampled_from([entry.region for entry in key.entries] or [None]))
    if region is None or draw(st.integers(0, 3)) == 0:
        x, y = draw(st.one_of(st.tuples(places, places), st.just((None, None))))
    else:
        corners = [corner for part in region for corner in part]
        (left, upper), (right, lower) = draw(st.sampled_from(corners)), draw(st.sampled_from(corners))
        x, y = (left + right) / 2, (upper + lower) / 2 + draw(st.integers(-2, 2)) / GRID
    fault, level, clause = draw(st.tuples(*[st.none() | each for each in (faults, levels, clauses)]))
    return FaultMark(x, y, fault, level, clause)


@st.composite
def answers(draw, most=5):
    key = draw(keys)
    return key, draw(st.lists(marks_on(key), min_size=1, max_size=most))


def exact(entry):
    """The mark that says what the key says."""
    if entry.region is None:
        return FaultMark(None, None, entry.fault, entry.level, entry.clause)
    (left, upper), _, (right, lower), _ = entry.region[0]
    return FaultMark((left + right) / 2, (upper + lower) / 2, entry.fault, entry.level, entry.clause)


def mirrored_key(key):
    return FaultKey(
        [
            KeyEntry(
                entry.region and [[(1 - x, y) for x, y in part] for part in entry.region],
                entry.fault,
                entry.clause,
                entry.zone,
                entry.level,
                entry.also,
            )
            for entry in key.entries
        ]
    )


def mirrored(mark):
    x = None if mark.x is None else 1 - mark.x
    return FaultMark(x, mark.y, mark.fault, mark.level, mark.clause)
