"""Where one sentence ends and the next begins, in the English of written standards."""

import re

_SHORTENED = """
e.g i.e cf approx ca c circa max min vs viz no nos fig figs para sec art vol ed eds pp p mr mrs ms dr st
incl excl resp nr
"""
_ABBREVIATIONS = frozenset(_SHORTENED.split())
_LONGEST = 2_000  # a "sentence" beyond this has an unclosed bracket in it; it is cut at the next full stop
_END = re.compile(r"(?<![.!?…])[.!?…]++[\"'”’»)\]*_]*+\s++(?=[\"'“‘«(\[*_]*[A-Z0-9À-ÖØ-Þ])")
_LAST_WORD = re.compile(r"([^\s(\[\"'“‘*_]+?)\.[\"'”’»)\]*_]*\s*$")


def split_sentences(text: str) -> list[str]:
    """`text` (one line) cut after each sentence.

    A full stop does not end a sentence after an abbreviation or an initial, inside a number, inside brackets
    or emphasis, or where the next word has a small letter ("laid at 35°. and not steeper").
    """
    found, begin = [], 0
    for end in _END.finditer(text):
        if _ends_here(text[begin : end.end()]):
            found.append(text[begin : end.end()].strip())
            begin = end.end()
    rest = text[begin:].strip()
    return [*found, rest] if rest else found


def _ends_here(sentence: str) -> bool:
    if len(sentence) > _LONGEST:
        return True
    if sentence.count("(") > sentence.count(")") or sentence.count("[") > sentence.count("]"):
        return False
    if sentence.count("**") % 2 or sentence.replace("**", "").count("*") % 2:
        return False
    word = _LAST_WORD.search(sentence[-40:])
    if word is None:
        return True
    last = word[1].rstrip(".")
    initial = len(last) == 1 and last.isalpha() and last.isupper()
    return not initial and last.lower() not in _ABBREVIATIONS
