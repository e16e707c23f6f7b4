"""Words in the gaps of a clause, by hand and as properties."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rapidfuzz.distance import DamerauLevenshtein

from assessments.scoring.gaps import Gap, GapRules, fill, gaps_in_words, plain, score_gaps

some = settings(max_examples=150)
SHOULDER = Gap("well laid back", {"sloping": 0.5})


@pytest.mark.parametrize(
    ("words", "same"),
    [
        ("Well  LAID back", "well laid back"),
        ("well-laid-back.", "well laid back"),
        ("STRAẞE", "strasse"),
        ("cafe\u0301", "caf\u00e9"),
        ("dog’s", "dogs"),
        ("ﬁne\u00a0coat", "fine coat"),
        ("30–40°", "30 40"),
    ],
)
def test_plain(words, same):
    assert plain(words) == same


@pytest.mark.parametrize(
    ("words", "given_words", "credit", "how"),
    [
        ("well laid back", "WELL-LAID BACK", 1, "right"),
        ("forechest", "fore chest", 1, "right"),
        ("sloping", "Sloping!", 1, "right"),
        ("shoulder", "sholder", 0.75, "slip"),
        ("shoulder", "shouldder", 0.75, "slip"),
        ("shoulder", "shoulber", 0.75, "slip"),
        ("shoulder", "shuolder", 0.75, "slip"),
        ("shoulder", "shulder s", 0, "wrong"),
        ("shoulder", "sholdr", 0, "wrong"),
        ("croup", "croop", 0, "wrong"),
        ("well angulated", "well angulted", 0.75, "slip"),
        ("well angulated", "wel angulated", 0, "wrong"),
        ("well angulated", "angulated well", 0, "wrong"),
        ("100000", "100001", 0, "wrong"),
        ("inward", "onward", 0, "wrong"),
        ("shoulder", "  …", 0, "open"),
    ],
)
def test_one_gap(words, given_words, credit, how):
    filled = fill(Gap(words), given_words, known={"onward"})
    assert (filled.credit, filled.how) == (credit, how)


def test_a_slip_in_an_accepted_word_earns_its_part_of_that():
    assert fill(SHOULDER, "slopping").credit == pytest.approx(0.375)
    assert fill(SHOULDER, "sloping").how == "accepted"


def test_words_chosen_from_some_have_no_slips():
    assert fill(Gap("shoulder"), "shoulders", typed=False).how == "wrong"


def test_the_lines():
    found = score_gaps(
        [SHOULDER, Gap("shoulder"), Gap("long"), Gap("short")], ["sloping", "sholder", "", "x"]
    )
    assert [line.text for line in found.lines] == [
        "“sloping”, which counts 50 %; the clause has “well laid back”",
        "“sholder”, a slip for “shoulder”, which counts 75 %",
        "Left open; the clause has “long”",
        "“x”; the clause has “short”",
    ]
    assert found.score == pytest.approx((0.5 + 0.75) / 4)
    assert found.answered
    assert not score_gaps([SHOULDER], [" "]).answered


def test_the_rules_in_words():
    words = " ".join(gaps_in_words(GapRules(slip=0.5, slip_from=8)))
    assert "a typed word of 8 letters or more still earns 50 %" in words


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: GapRules(slip=2), "slip is 2"),
        (lambda: GapRules(slip_from=1), "slip_from is 1"),
        (lambda: Gap("—"), "a gap needs words"),
        (lambda: Gap("long", {"short": 2}), "credit 2 for 'short'"),
        (lambda: score_gaps([], []), "gaps is empty"),
        (lambda: score_gaps([Gap("long")], []), "given has 0 words for 1 gaps"),
    ],
)
def test_refuses(make, message):
    with pytest.raises(ValueError, match=message):
        make()


letters = st.text("abcdefghij", min_size=6, max_size=10)


@some
@given(letters, st.data())
def test_one_edit_of_any_kind_is_a_slip(word, data):
    place = data.draw(st.integers(0, len(word) - 1))
    letter = data.draw(st.sampled_from("klm"))
    edits = {
        "more": word[:place] + letter + word[place:],
        "fewer": word[:place] + word[place + 1 :],
        "other": word[:place] + letter + word[place + 1 :],
        "changed over": word[:place] + word[place : place + 2][::-1] + word[place + 2 :],
    }
    for written in edits.values():
        expected = "right" if written == word else "slip"
        assert fill(Gap(word), written).how == expected
        assert fill(Gap(word), written, known={written}).how == ("right" if written == word else "wrong")


@some
@given(letters, letters)
def test_two_edits_are_not(word, written):
    distance = DamerauLevenshtein.distance(word, written)
    assert (fill(Gap(word), written).credit > 0) is (distance <= 1)


@some
@given(st.text(max_size=30))
def test_plain_is_settled_at_once(words):
    assert plain(plain(words)) == plain(words)


@some
@given(
    st.lists(st.sampled_from(["well laid back", "sloping", "slopping", "", "short"]), min_size=1, max_size=6)
)
def test_lines_sum_to_the_score(given_words):
    found = score_gaps([SHOULDER] * len(given_words), given_words)
    assert 0 <= found.score <= 1 + 1e-9
    assert sum(line.points for line in found.lines) == pytest.approx(found.score)
    assert sum(line.available for line in found.lines) == pytest.approx(1)
