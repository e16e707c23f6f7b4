"""A class of exhibits, findings and placing, by hand and as properties."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.scoring import DEFAULT_LADDER, KeyEntry, MarkingRules, rank_agreement, score_placing
from assessments.scoring.class_marks import ClassKey, Findings, class_in_words, score_class

some = settings(max_examples=80)
LABELS = {number: f"Exhibit {number}" for number in range(1, 9)}
SHOULDER = KeyEntry(None, "upright shoulder", "5.1", "forequarters", 2)
TAIL = KeyEntry(None, "gay tail", "9.1", "tail", 1, {"ring tail": 0.5})
FAULTS = {1: (), 2: (TAIL,), 3: (SHOULDER, TAIL)}
FOUND = {
    1: Findings(nothing_found=True),
    2: Findings([("gay tail", "9.1")]),
    3: Findings([("upright shoulder", "5.1"), ("gay tail", "9.1")]),
}


def key(share=0.5, cuts=(4, 2), total=50):
    return ClassKey([1, 2, 3], cuts, LABELS, total, FAULTS, share)


def test_a_perfect_answer():
    found = score_class(key(), [1, 2, 3], FOUND, DEFAULT_LADDER)
    assert (found.score, found.findings, found.placing, found.agreement) == (pytest.approx(1), 1, 1, 1)


def test_each_reversed_pair_is_told_with_its_loss():
    found = score_class(key(share=0), [2, 3, 1], None, DEFAULT_LADDER)
    assert [(line.text, pytest.approx(line.points)) for line in found.lines] == [
        ("Placing: 50 points, less what is lost", 1),
        ("Exhibit 1 belongs above Exhibit 2: loses 4", -0.08),
        ("Exhibit 1 belongs above Exhibit 3: loses 6", -0.12),
    ]
    assert found.findings is None
    assert found.score == pytest.approx(40 / 50)


def test_a_cut_of_nothing_lets_the_pair_stand_either_way():
    found = score_class(key(share=0, cuts=(0, 3)), [2, 1, 3], None, DEFAULT_LADDER)
    assert found.score == 1
    assert found.lines[1].text.endswith("but they may stand either way: loses nothing")
    assert found.agreement == 1
    assert score_class(key(cuts=(0, 0)), [3, 2, 1], None, DEFAULT_LADDER).agreement is None


def test_findings_are_marked_by_name_and_each_exhibit_counts_alike():
    """Exhibit 1, sound: an unweighed fault called takes 2 of 4, half. Exhibit 2: the accepted name earns half.
    Exhibit 3: the shoulder weighs 4 of 6, the tail is missed."""
    written = {
        1: Findings([("roached back", "6.2")]),
        2: Findings([("ring tail", "9.3")]),
        3: Findings([("upright shoulder", "5.1")]),
    }
    found = score_class(key(), [1, 2, 3], written, DEFAULT_LADDER)
    assert found.findings == pytest.approx((0.5 + 0.5 + 4 / 6) / 3)
    assert found.score == pytest.approx(0.5 * found.findings + 0.5)
    assert [line.text for line in found.lines[:5]] == [
        "Exhibit 1: The key has no fault here",
        "Exhibit 1: roached back. Called a fault where there is none",
        "Exhibit 2: gay tail, called “ring tail”. Named: otherwise than the key, which the panel counts 50 %",
        "Exhibit 3: upright shoulder. Named: as the key has it",
        "Exhibit 3: gay tail. Not marked",
    ]


def test_findings_that_do_not_count_are_shown_beside():
    found = score_class(key(share=0), [1, 2, 3], FOUND | {1: Findings()}, DEFAULT_LADDER)
    assert found.score == 1
    assert found.findings == pytest.approx(2 / 3)
    assert sum(line.points for line in found.beside) == pytest.approx(found.findings)
    assert len(found.lines) == 1


def test_without_a_place_for_each_there_is_no_placing():
    found = score_class(key(), [1, 2], FOUND, DEFAULT_LADDER)
    assert (found.score, found.placing, found.placed, found.agreement) == (pytest.approx(0.5), 0, None, None)
    assert found.lines[-1].kind == "unanswered"
    assert not score_class(key(), [], {}, DEFAULT_LADDER).answered


def test_a_placing_does_not_fall_below_zero():
    found = score_class(key(share=0, cuts=(20, 20)), [3, 2, 1], None, DEFAULT_LADDER)
    assert found.score == pytest.approx(0)
    assert found.lines[-1].text == "A placing does not fall below 0"


def test_the_rules_in_words():
    words = " ".join(class_in_words(MarkingRules(false_alarm=0.3)))
    assert "a fault called in vain costs 30 % of its weight" in words
    assert "the placing alone makes it" in words


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: key(share=1.5), "share is 1.5"),
        (
            lambda: ClassKey(
                [1], [], LABELS, faults={1: [KeyEntry([(0, 0), (1, 0), (1, 1)], "a", None, None, 1)]}
            ),
            "faults have regions",
        ),
        (lambda: score_class(key(), [1, 2, 2], None, DEFAULT_LADDER), "names an exhibit twice"),
    ],
)
def test_refuses(make, message):
    with pytest.raises(ValueError, match=message):
        make()


names = st.sampled_from([("upright shoulder", "5.1"), ("gay tail", "9.1"), ("roached back", "6.2")])
written = st.one_of(st.builds(Findings, st.lists(names, max_size=3)), st.just(Findings(nothing_found=True)))


@some
@given(
    st.permutations([1, 2, 3]),
    st.dictionaries(st.sampled_from([1, 2, 3]), written),
    st.floats(0, 1),
    st.tuples(st.integers(0, 30), st.integers(0, 30)),
)
def test_lines_sum_to_the_score_whose_parts_are_the_two_sheets(placing, findings, share, cuts):
    made = key(share, cuts)
    found = score_class(made, placing, findings, DEFAULT_LADDER)
    assert sum(line.points for line in found.lines) == pytest.approx(found.score, abs=1e-9)
    kept = score_placing(made.official, cuts, placing, made.total).points / made.total
    assert found.score == pytest.approx(share * found.findings + (1 - share) * kept, abs=1e-9)
    assert sum(line.available or 0 for line in found.lines) == pytest.approx(1)
    if any(cuts):
        assert found.agreement == rank_agreement(made.official, placing, cuts)
