"""What holds for any text at all."""

import re
import unicodedata
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from shared.prose.cleaning import clean_text
from shared.prose.degree_words import find_degree_words, suggest_severity
from shared.prose.splitting import join_standard, read_standard
from shared.prose.zones import ZONES, suggest_zone

VOCABULARY = """
the blade slopes moderately A steep is a serious fault HEAD Neck 35° e.g. 2.5 cm and, plumb: (b) **Skull**
EYES Head: TAIL: low. dark; – “well laid” tail- [x](y) *not* approx. I. Topline «é»
"""
WORDS = st.sampled_from([*VOCABULARY.split(), "Skull and jaw"])
STARTS = st.sampled_from(
    [
        *[
            "",
            "",
            "",
            "",
            "# ",
            "## ",
            "### ",
            "5.1 ",
            "5.2. ",
            "4.1.2 ",
            "1. ",
            "2) ",
            "(a) ",
            "b) ",
            "(ii) ",
        ],
        *["- ", "* ", "• ", "– ", "  ", "5 ", "Section 3: ", "**", "> ", "---", "==="],
    ]
)
ENDS = st.sampled_from(
    ["\n", "\n", "\n\n", "\r\n", "\r", "\f", ".\n", ".\n\n", ":\n", "-\n", "**\n", "\u2028"]
)
LINES = st.tuples(STARTS, st.lists(WORDS, max_size=9).map(" ".join), ENDS).map("".join)
STANDARDS = st.lists(LINES, max_size=25).map("".join) | st.text(max_size=200)


def letters(text: str) -> str:
    """The letters of `text` in order, without those of marks such as (b), ii) and "Section 3"."""
    text = re.sub(r"\(?(?<!\w)(?:[a-z]|[ivx]{2,6})\)|section +(?=\d)", "", text, flags=re.IGNORECASE)
    return "".join(filter(str.isalpha, text))


def shape(standard):
    return standard.title, [
        (section.number, section.title, [(clause.number, clause.text) for clause in section.clauses])
        for section in standard.sections
    ]


def whole(standard) -> str:
    untitled = "General" if any("No heading" in "".join(s.warnings) for s in standard.sections[:1]) else ""
    lines = [standard.title]
    for at, section in enumerate(standard.sections):
        lines += ["" if at == 0 and untitled else section.title, *(clause.text for clause in section.clauses)]
    return "\n".join(lines)


@given(STANDARDS)
@settings(max_examples=150)
def test_no_letter_is_lost_or_moved(text):
    assert letters(whole(read_standard(text))) == letters(clean_text(text))


@given(STANDARDS)
@settings(max_examples=150)
def test_splitting_what_was_joined_gives_the_same_again(text):
    once = read_standard(text)
    assert shape(read_standard(join_standard(once))) == shape(once)


@given(STANDARDS)
def test_numbers_rise_and_none_comes_twice(text):
    sections = read_standard(text).sections
    numbers = [
        tuple(map(int, clause.number.split("."))) for section in sections for clause in section.clauses
    ]
    assert numbers == sorted(set(numbers))
    assert all(
        clause.number.startswith(section.number + ".") for section in sections for clause in section.clauses
    )


@given(st.text())
def test_cleaning_loses_no_letter(text):
    composed, cleaned = (unicodedata.normalize("NFKC", each) for each in (text, clean_text(text)))
    assert "".join(filter(str.isalpha, cleaned)) == "".join(filter(str.isalpha, composed))


@given(st.text())
def test_cleaning_twice_changes_nothing_more(text):
    assert clean_text(clean_text(text)) == clean_text(text)


@given(STANDARDS)
def test_degree_words_lie_where_they_say(text):
    words = find_degree_words(text)
    assert all(text[word.start : word.end] == word.text for word in words)
    assert all(earlier.end <= later.start for earlier, later in pairwise(words))
    suggestion = suggest_severity(text)
    assert (suggestion is not None) == any(word.suggests for word in words)


@given(STANDARDS, STANDARDS)
def test_every_clause_has_one_of_the_ten_zones(title, text):
    assert suggest_zone(title, text) in ZONES
