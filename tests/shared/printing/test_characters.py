"""What can be printed of a text."""

from hypothesis import given
from hypothesis import strategies as st

from shared.printing import UNSHOWN, printable
from shared.printing.characters import _USUAL, LONGEST, STRANGE_AT_MOST, has_glyph


def test_the_fonts_have_every_usual_character():
    usual = [chr(code) for code in range(32, 0x2600) if _USUAL.match(chr(code))]
    assert len(usual) > 500
    assert [each for each in usual if not has_glyph(each)] == []


def test_a_rectangle_stands_for_what_no_font_has():
    assert has_glyph("ж")
    assert not has_glyph("😀")
    assert printable("ж😀") == f"ж{UNSHOWN}"


def test_marks_join_their_letters():
    assert printable("A\u030ase") == "Åse"


def test_of_very_many_strange_characters_the_first_are_asked_about():
    text = "".join(chr(0x4E00 + n) for n in range(STRANGE_AT_MOST + 100)) + "ж"
    assert set(printable(text, breaks=False)) <= {UNSHOWN, "ж"}


@given(st.text(max_size=200))
def test_nothing_is_printed_twice_otherwise(text):
    once = printable(text)
    assert printable(once.replace("\u200b", "")) == once
    assert max((len(word) for word in once.replace("\u200b", " ").split()), default=0) <= LONGEST
