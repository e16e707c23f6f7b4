import pytest

from assessments.scoring import (
    VIRTUE_RULES,
    FaultKey,
    FaultMark,
    KeyEntry,
    MarkingRules,
    SeverityLadder,
    score_fault_marks,
)

from .exhibits import (
    BACK,
    BACK_EXACT,
    DISQUALIFYING,
    LADDER,
    MINOR,
    MODERATE,
    MOUTH,
    SERIOUS,
    SHOULDER,
    SHOULDER_EXACT,
    SOUND,
    TOO_LONG,
    TWO_FAULTS,
)


def lines(key, *marks, **more):
    score = score_fault_marks(key if isinstance(key, FaultKey) else FaultKey(key), marks, LADDER, **more)
    assert sum(points for _, points in score.lines) == pytest.approx(score.score, abs=1e-12)
    return score.lines


def texts(key, *marks, **more):
    return [text for text, _ in lines(key, *marks, **more)]


def test_a_line_unpacks_and_indexes_as_text_and_points():
    line = lines([SHOULDER], SHOULDER_EXACT)[0]
    text, points = line
    assert (text, points) == (line[0], line[1]) == (line.text, line.points)
    assert len(line) == 2
    assert (line.kind, line.entry, line.mark) == ("seen", 0, 0)
    assert line.available == pytest.approx(0.4)


def test_the_ledger_of_a_mixed_answer():
    """A fault seen and named but weighed light, one not marked, and one called where there is none."""
    light = FaultMark(0.35, 0.45, "upright shoulder", MODERATE)
    found = lines(TWO_FAULTS, light, FaultMark(0.9, 0.2, "gay tail", MINOR))
    assert [(line.text, line.entry, line.mark) for line in found] == [
        ("Seen: inside the region", 0, 0),
        ("Named: as the key has it", 0, 0),
        ("Weighed: Moderate, one level light", 0, 0),
        ("Not marked", 1, None),
        ("Called a fault where there is none, Minor", None, 1),
    ]
    points = [4 / 6 * 0.4, 4 / 6 * 0.35, 4 / 6 * 0.25 * 2 / 3, 0, -0.25 / 6]
    assert [line.points for line in found] == pytest.approx(points)
    available = [4 / 6 * 0.4, 4 / 6 * 0.35, 4 / 6 * 0.25, 2 / 6]
    assert [line.available for line in found[:4]] == pytest.approx(available)
    assert found[4].available is None


@pytest.mark.parametrize(
    ("mark", "expected"),
    [
        (FaultMark(0.28, 0.45), "Seen: outside the region, so that all parts count 60 %"),
        (FaultMark(0.35, 0.45), "Not named"),
        (FaultMark(0.35, 0.45, "ewe neck"), "Named: another fault than the key has"),
        (
            FaultMark(0.35, 0.45, "ewe neck", 0, "5.1"),
            "Named: another fault of the same clause, which counts half",
        ),
        (FaultMark(0.35, 0.45, "upright shoulder"), "Not weighed"),
        (FaultMark(0.35, 0.45, "upright shoulder", SERIOUS), "Weighed: Serious, as the key has it"),
        (FaultMark(0.35, 0.45, "upright shoulder", MINOR), "Weighed: Minor, two levels light"),
        (FaultMark(0.35, 0.45, "upright shoulder", DISQUALIFYING), "Weighed: Disqualifying, one level heavy"),
        (FaultMark(0.35, 0.45, "ewe neck", SERIOUS), "Weighed: Serious, which cannot count without the name"),
    ],
)
def test_words_of_one_mark(mark, expected):
    assert expected in texts([SHOULDER], mark)


def test_words_of_an_accepted_name_and_of_the_whole_dog():
    steep = FaultMark(0.66, 0.34, "steep croup", MODERATE)
    assert "Named: otherwise than the key, which the panel counts 50 %" in texts([BACK], steep)
    assert "Seen: on the whole dog" in texts([TOO_LONG], FaultMark(None, None, "too long"))


def test_words_of_repeats():
    def again(name, level):
        return texts([SHOULDER], SHOULDER_EXACT, FaultMark(0.36, 0.45, name, level))

    assert again("upright shoulder", MINOR)[2:] == [
        "Weighed: again as Minor, two levels light",
        "Marked again, which costs nothing",
    ]
    assert again("upright shoulder", SERIOUS)[2] == "Weighed: Serious, as the key has it"
    assert again(None, SERIOUS)[2] == "Weighed: again on a mark without the name, so that it cannot count"


def test_an_unweighed_false_alarm_says_as_what_it_counts():
    words = texts(TWO_FAULTS, FaultMark(0.9, 0.2, "gay tail"))
    assert "Called a fault where there is none, not weighed, counted as Moderate" in words


def test_a_second_fault_called_on_a_found_one():
    found = lines(TWO_FAULTS, SHOULDER_EXACT, FaultMark(0.35, 0.5, "ewe neck", MINOR))
    assert found[-1][0] == "Called one more fault than the key has here, Minor"


def test_a_mark_that_would_fall_below_zero_has_a_line_that_lifts_it():
    *_, floor = lines(TWO_FAULTS, *[FaultMark(0.9, 0.1 * n, "gay tail", SERIOUS) for n in range(3)])
    assert (floor.text, floor.kind) == ("The mark does not fall below 0", "floor")
    assert floor.points == pytest.approx(3 * 0.25 * 4 / 6)


@pytest.mark.parametrize(
    ("marks", "why"),
    [
        ((FaultMark(0.13, 0.22, "undershot", MINOR),), "A fault that is Disqualifying was not weighed so"),
        (
            (
                FaultMark(0.13, 0.22, "undershot", DISQUALIFYING),
                FaultMark(0.9, 0.2, "gay tail", DISQUALIFYING),
            ),
            "Called Disqualifying what the key does not",
        ),
    ],
)
def test_the_cap_has_a_line_of_its_own(marks, why):
    *_, cap = lines([MOUTH], *marks)
    assert (cap.text, cap.kind) == (f"{why}: at most 50 of 100", "cap")
    assert cap.points < 0


def test_the_cap_of_a_missed_disqualifying_fault():
    rules = MarkingRules(disqualifying_cap=0.125)
    *_, cap = lines([MOUTH, BACK], BACK_EXACT, rules=rules)
    assert cap.text == "A fault that is Disqualifying was not marked: at most 12.5 of 100"
    assert cap.points == pytest.approx(0.125 - 0.2)


def test_answers_without_matches():
    assert texts(TWO_FAULTS) == ["Not answered", "Not marked", "Not marked"]
    assert texts(TWO_FAULTS, nothing_found=True) == ["Nothing found", "Not marked", "Not marked"]
    assert texts(SOUND) == ["Not answered"]
    assert [tuple(line) for line in lines(SOUND, nothing_found=True)] == [
        ("Nothing found, as the key has it", 1.0)
    ]


def test_a_sound_exhibit():
    heavy = FaultMark(0.5, 0.5, "gay tail", SERIOUS)
    found = lines(SOUND, heavy, FaultMark(0.2, 0.5, "ewe neck", MODERATE))
    assert [tuple(line) for line in found] == [
        ("The key has no fault here", 1.0),
        ("Called a fault where there is none, Serious", -1.0),
        ("Called a fault where there is none, Moderate", -0.5),
        ("The mark does not fall below 0", 0.5),
    ]


def test_virtues_have_no_line_for_weighing():
    ladder = SeverityLadder(("Counts", "Counts double"), (1, 2), disqualifying=False)
    virtue = KeyEntry(SHOULDER.region, "well laid shoulder", "5.1", "forequarters", 1)
    marks = [FaultMark(0.35, 0.45, "well laid shoulder"), FaultMark(0.9, 0.9, "level back")]
    score = score_fault_marks(FaultKey([virtue]), marks, ladder, VIRTUE_RULES)
    assert [text for text, _ in score.lines] == [
        "Seen: inside the region",
        "Named: as the key has it",
        "Called a virtue where there is none",
    ]


def test_available_points_of_a_faulty_exhibit_sum_to_one():
    found = lines([SHOULDER, BACK, TOO_LONG], SHOULDER_EXACT, FaultMark(0.66, 0.5))
    assert sum(line.available or 0 for line in found) == pytest.approx(1)
