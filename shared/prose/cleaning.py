"""Getting plain text out of what people paste and upload."""

import codecs
import re
import unicodedata

MAX_CHARACTERS = 200_000
"""The longest text that is taken in: some thirty times a long breed standard."""

_LINE_ENDS = re.compile(r"\r\n|[\r\n\v\f\x1c-\x1e\x85\u2028\u2029]")
_SPACES = re.compile(r"[\t\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]")
_INVISIBLE = re.compile(r"[\u00ad\u180e\u200b-\u200f\u202a-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb]")
_BROKEN_SOFTLY = re.compile(r"\u00ad\n")
_CONTROLS = re.compile(r"[\x00-\x08\x0e-\x1f\x7f-\x9f\ud800-\udfff]")
_LIGATURES = {"ﬀ": "ff", "ﬁ": "fi", "ﬂ": "fl", "ﬃ": "ffi", "ﬄ": "ffl", "ﬅ": "st", "ﬆ": "st"}
_LIGATURE = re.compile("[" + "".join(_LIGATURES) + "]")
_NOT_IN_TEXT = re.compile(r"[\x01-\x08\x0e-\x19\x1b-\x1f]")


def decode_text(data: bytes) -> str:
    """The text of an uploaded file: UTF-8, UTF-16 with its mark, or else Windows-1252.

    Raises `ValueError`, in words for the person who uploaded it, when the bytes are not text.
    """
    if len(data) > 4 * MAX_CHARACTERS:
        raise ValueError(f"The file is too long: at most {MAX_CHARACTERS:,} characters are taken.")
    text = _decoded(data)
    if "\0" in text:
        raise ValueError("The file is not plain text. Save it as plain text (.txt or .md) and try again.")
    if len(text) > MAX_CHARACTERS:
        raise ValueError(f"The file is too long: at most {MAX_CHARACTERS:,} characters are taken.")
    return text


def _decoded(data: bytes) -> str:
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        try:
            return data.decode("utf-16")
        except UnicodeDecodeError as error:
            raise ValueError("The file says that it is UTF-16 text but cannot be read as such.") from error
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        pass
    try:
        text = data.decode("cp1252")
    except UnicodeDecodeError as error:
        raise ValueError("The file is not text in UTF-8, UTF-16 or Windows-1252.") from error
    if _NOT_IN_TEXT.search(text):
        raise ValueError("The file is not plain text. Save it as plain text (.txt or .md) and try again.")
    return text


def clean_text(text: str) -> str:
    """`text` with "\\n" for every line end, plain spaces, and nothing that cannot be seen.

    Quotes stay as they are. Letters joined by a typesetter (ﬁ) are taken apart; accents are composed (NFC).
    Applying it twice changes nothing. Raises `ValueError` above `MAX_CHARACTERS`.
    """
    if len(text) > MAX_CHARACTERS:
        raise ValueError(
            f"The text has {len(text):,} characters; at most {MAX_CHARACTERS:,} are taken. "
            "Paste the standard alone, without its history and pictures."
        )
    text = _LINE_ENDS.sub("\n", text)
    text = _SPACES.sub(" ", text)
    text = _BROKEN_SOFTLY.sub("", text)
    text = _CONTROLS.sub("", _INVISIBLE.sub("", text))
    text = _LIGATURE.sub(lambda found: _LIGATURES[found[0]], text)
    return unicodedata.normalize("NFC", text)
