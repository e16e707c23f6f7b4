"""Words of degree: which are found, where, and what they suggest."""

import pytest

from shared.prose.degree_words import DEFAULT_READINGS, LEVELS, find_degree_words, suggest_severity


def found(text: str) -> list[str]:
    return [word.text for word in find_degree_words(text)]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("A steep blade, which cuts the stride short, is a serious fault.", ["serious fault"]),
        ("Arm and blade measure nearly alike. An arm visibly shorter is a fault.", ["nearly", "fault"]),
        ("Falls away moderately, neither level nor abrupt.", ["moderately"]),
        ("The dog MUST NOT be shown; it Should be even.", ["MUST NOT", "Should"]),
        ("White is undesirable, a dark mask preferred.", ["undesirable", "preferred"]),
        ("To be severely penalized: a slight dip.", ["To be severely penalized", "slight"]),
        (
            "A *serious* fault, a **serious\nfault**, _severe faults_.",
            ["serious* fault", "serious\nfault", "severe faults"],
        ),
        ("Faultless, defaulted, mayhem, non-serious and almost-white.", []),
        ("Amended in May 2026; a dog may be shown in May.", ["may", "May"]),
        ("[a serious fault](https://example.org/serious) `severe` <em>pronounced</em>", ["pronounced"]),
        ("See https://example.org/serious-fault or www.example.org/must for more.", []),
        ("ſlight and İdeal", []),
    ],
)
def test_words_found(text, words):
    assert found(text) == words


@pytest.mark.parametrize(
    ("text", "level"),
    [
        ("A steep blade is a serious fault.", "serious"),
        ("Sickle hocks are a severe fault.", "serious"),
        ("A short arm is a fault.", "moderate"),
        ("A level croup is to be penalised.", "moderate"),
        ("Pale eyes are undesirable.", "minor"),
        ("A gay tail is a slight fault.", "minor"),
        ("Any dog that bites must be disqualified.", "disqualifying"),
        ("An undershot mouth disqualifies.", "disqualifying"),
        ("Disqualification: one testicle.", "disqualifying"),
        ("White toes are not a fault.", None),
        ("White toes are not a serious fault.", None),
        ("White toes are not to be penalised.", None),
        ("White toes should not be penalized.", None),
        ("Scars of work must never be considered a fault.", None),
        ("A lost tooth doesn't constitute a fault.", None),
        ("A lost tooth does not disqualify.", None),
        ("Neither a fault nor a virtue.", None),
        ("The eye is dark, the ear may tip slightly.", None),
        ("A leg that is not straight is a serious fault.", "serious"),
        ("Not only a fault but a danger.", "moderate"),
        ("", None),
    ],
)
def test_what_a_clause_suggests(text, level):
    suggestion = suggest_severity(text)
    assert (suggestion.level if suggestion else None) == level


def test_the_heaviest_word_wins_and_lighter_ones_are_told():
    text = "A dip is undesirable, a deep one a serious fault, a rise a fault; a kink is a serious fault too."
    suggestion = suggest_severity(text)
    assert (suggestion.level, suggestion.because.text) == ("serious", "serious fault")
    assert suggestion.because.start == text.index("serious")
    assert [word.text for word in suggestion.lighter] == ["undesirable", "fault"]


def test_a_denied_verdict_is_still_a_word_of_degree_but_excuses():
    (word,) = find_degree_words("Scars are not a fault.")
    assert (word.text, word.strength, word.suggests) == ("fault", 0, None)


def test_a_club_reads_words_in_its_own_way():
    club = {"Undesirable": "serious", "fault": None, "foul": "disqualifying", "must": "moderate"}
    assert suggest_severity("Pale eyes are undesirable.", club).level == "serious"
    assert suggest_severity("A short arm is a fault.", club) is None
    assert suggest_severity("Foul temper.", club).level == "disqualifying"
    assert suggest_severity("Must be dark.", club).level == "moderate"
    assert suggest_severity("A severe fault.", club).level == "serious"


def test_a_level_that_does_not_exist_is_refused():
    with pytest.raises(ValueError, match="'grave' is not a severity level"):
        find_degree_words("text", {"fault": "grave"})


def test_every_known_phrase_is_found_whole_and_weighs_as_its_strength_allows():
    for phrase, level in DEFAULT_READINGS.items():
        (word,) = find_degree_words(f"It was {phrase} it was.")
        assert word.text == phrase
        assert word.suggests == level
    heaviest = {level: [] for level in LEVELS}
    for phrase, level in DEFAULT_READINGS.items():
        if level:
            heaviest[level].append(find_degree_words(phrase)[0].strength)
    means = [sum(strengths) / len(strengths) for strengths in heaviest.values()]
    assert means == sorted(means)
