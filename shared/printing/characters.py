"""What can be printed of a text: characters that the fonts have, and words that a line can hold."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

import typst

# Stands for a character that none of the fonts has.
UNSHOWN = "▯"
# A longer word may be broken after each so many characters.
LONGEST = 24
# Characters beyond the usual ones that one text may bring; of a text with more the rest is not shown.
STRANGE_AT_MOST = 400

# Printable ASCII, Latin letters with their marks, and the signs of our own texts: the fonts have them, a test says so.
_USUAL = re.compile("[\n -~\xa0-\xac\xae-\u017f\u1e00-\u1eff\u2010-\u2014\u2018-\u201e\u2026\u2212\u25af]")
# Controls, halves of characters, and marks that turn the direction of what stands around them.
_UNPRINTED = re.compile(
    "[\x00-\x09\x0b-\x1f\x7f-\x9f\xad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ud800-\udfff\ufe00-\ufe0f\ufeff]"
)
_TOO_LONG = re.compile(rf"\S{{{LONGEST}}}(?=\S)")
_BREAK = "\u200b"


@lru_cache(maxsize=1)
def fonts() -> typst.Fonts:
    """Those that the compiler carries, and no others."""
    return typst.Fonts(include_system_fonts=False)


def printable(text: str, *, breaks: bool = True) -> str:
    """The text without what cannot be printed, in composed characters; long words may be broken if `breaks`."""
    text = text.replace("\r\n", "\n").replace("\r", "\n").replace("\t", " ")
    text = unicodedata.normalize("NFC", _UNPRINTED.sub("", text))
    strange = sorted({character for character in text if not _USUAL.match(character)})
    unshown = {each for n, each in enumerate(strange) if n >= STRANGE_AT_MOST or not has_glyph(each)}
    if unshown:
        text = "".join(UNSHOWN if character in unshown else character for character in text)
    return _TOO_LONG.sub(lambda long: long.group() + _BREAK, text) if breaks else text


@lru_cache(maxsize=8192)
def has_glyph(character: str) -> bool:
    """Whether one of the fonts shows it: the compiler refuses to keep by PDF/A what it cannot show."""
    try:
        typst.compile(
            b"#sys.inputs.text",
            font_paths=fonts(),
            sys_inputs={"text": character},
            pdf_standards="a-2u",
            timestamp=0,
        )
    except typst.TypstError:
        return False
    return True
