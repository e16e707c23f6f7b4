"""The words by which a standard says how much: found in a clause, and read as a severity.

A standard says "slight", "should", "undesirable", "a serious fault", and honest people read these in their
own ways. Here is one reading, `DEFAULT_READINGS`, and the means for a club to put its own in its place.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

LEVELS = ("minor", "moderate", "serious", "disqualifying")
"""Keys of the severity levels that a word can suggest, lightest first."""


@dataclass(frozen=True)
class DegreeWord:
    """A word or phrase of degree at `text[start:end]`.

    `strength` orders the words from 0 (excuses) through 1 (slight, may) and 3 (pronounced, a fault) to 5
    (never, disqualifies). `suggests` is one of `LEVELS`, or None where the word by itself weighs nothing.
    """

    start: int
    end: int
    text: str
    strength: int
    suggests: str | None


@dataclass(frozen=True)
class Suggestion:
    """The severity that a clause suggests, the words it rests on, and lighter words that it also uses."""

    level: str
    because: DegreeWord
    lighter: tuple[DegreeWord, ...] = ()


_PHRASES = {
    0: """not to be penalised, not penalised, no fault, acceptable, permissible, permitted, allowed,
        tolerated, immaterial, of no importance, to be ignored""",
    1: """slight, slightly, nearly, almost, may, preferred, preferably, desirable, desired, ideal, ideally,
        somewhat, as far as possible, faintly, minor""",
    2: """moderate, moderately, medium, should, should not, rather, fairly, reasonably, sufficient,
        sufficiently, undesirable, not desirable, not desired, less desirable, to be discouraged, discouraged,
        slight fault, minor fault, small fault, lightly penalised, slightly penalised,
        to be lightly penalised, to be slightly penalised""",
    3: """pronounced, marked, markedly, distinct, distinctly, decidedly, strongly, highly, excessive,
        excessively, exaggerated, exaggeration, extreme, extremely, objectionable, fault, faulty, faulted,
        to be faulted, penalised, to be penalised, should be penalised, must be penalised, moderate fault,
        distinct fault, marked fault""",
    4: """must, must not, shall, shall not, always, serious, seriously, severe, severely, serious fault,
        severe fault, grave fault, major fault, very serious fault, highly undesirable, most undesirable,
        severely penalised, seriously penalised, heavily penalised, strongly penalised,
        to be severely penalised, to be seriously penalised, to be heavily penalised,
        to be strongly penalised, must be severely penalised, must be heavily penalised,
        should be severely penalised, should be heavily penalised,
        unacceptable, not acceptable, not permissible, not permitted, not allowed, never permissible""",
    5: """never, must never, on no account, under no circumstances, disqualify, disqualifies, disqualified,
        disqualifying, disqualification, disqualifying fault, to be disqualified, must be disqualified,
        shall be disqualified, eliminating fault, eliminated, to be eliminated, must be eliminated,
        excluded from competition""",
}
_STRENGTH = {phrase.strip(): strength for strength, row in _PHRASES.items() for phrase in row.split(",")}


def _reads_as(phrase: str) -> str | None:
    if re.search("disqualif|eliminat|excluded from", phrase):
        return "disqualifying"
    if re.search(
        "(very )?(serious|severe|grave|major) fault|(severe|serious|heavi|strong)(ly)? penal", phrase
    ):
        return "serious"
    if phrase in {"serious", "severe", "highly undesirable", "most undesirable"}:
        return "serious"
    if re.search(
        "(slight|minor|small) fault|(light|slight)ly penal|undesirable|not desir|discouraged", phrase
    ):
        return "minor"
    if _STRENGTH[phrase] == 3 and re.search("fault|penalised|objectionable", phrase):
        return "moderate"
    return None


DEFAULT_READINGS: Mapping[str, str | None] = MappingProxyType(
    {phrase: _reads_as(phrase) for phrase in _STRENGTH}
)
"""Every phrase that is known, with the level it suggests or None; lower case, "-ise" spelling, singular."""

_GAP = r"[\s*_]+"
_FILLER = (
    r"(?:(?:to|be|been|being|a|an|the|as|considered|regarded|counted|treated|constitutes?|itself|in|"
    r"necessarily|any|such)" + _GAP + r"){0,5}"
)
_NEGATED = re.compile(r"(?:\b(?:not|no|never|nor|neither|without|cannot)|n['’]t)\b" + _GAP + _FILLER + r"$")
_REACH_BACK = 90  # characters before a verdict in which its denial is looked for
_LOWER = {
    upper: upper + 32 for upper in range(ord("A"), ord("Z") + 1)
}  # keeps every position, unlike lower()
_SYNTAX = re.compile(
    r"`+[^`\n]*`+|!?\[[^\[\]\n]*\](?:\([^()\n]*\)|\[[^\[\]\n]*\])|<[^<>\n]*>|\b(?:https?://|mailto:|www\.)\S+",
    re.IGNORECASE,
)


def find_degree_words(text: str, readings: Mapping[str, str | None] = DEFAULT_READINGS) -> list[DegreeWord]:
    """The words and phrases of degree in `text` (plain or Markdown), in order, the longest at each place.

    Whole words only, in any case and with -ise or -ize; not within links, code or tags. A verdict that is
    denied ("not a fault", "should not be penalised") has strength 0 and suggests nothing. `readings` maps
    phrases to a level or None; what it leaves out is read as in `DEFAULT_READINGS`.
    """
    merged = {**DEFAULT_READINGS, **{plain_phrase(phrase): level for phrase, level in readings.items()}}
    wrong = {level for level in merged.values() if level is not None} - set(LEVELS)
    if wrong:
        raise ValueError(f"{sorted(wrong)[0]!r} is not a severity level; they are {', '.join(LEVELS)}.")
    hidden = _SYNTAX.sub(lambda found: "\0" * len(found[0]), text).translate(_LOWER)
    return [
        _degree_word(text, hidden, *found.span(), merged)
        for found in _pattern(tuple(merged)).finditer(hidden)
    ]


def suggest_severity(text: str, readings: Mapping[str, str | None] = DEFAULT_READINGS) -> Suggestion | None:
    """The severity that the words of a clause suggest, or None where they weigh nothing.

    Where a clause names several, the heaviest wins and the lighter ones are listed with it: the level is a
    starting point that a person confirms, and a grave word read too lightly is the error that nobody notices.
    Among equals the first in the text is given as the reason.
    """
    weighing = [word for word in find_degree_words(text, readings) if word.suggests]
    if not weighing:
        return None
    because = max(weighing, key=lambda word: LEVELS.index(word.suggests or LEVELS[0]))
    lighter = tuple(word for word in weighing if word.suggests != because.suggests)
    return Suggestion(because.suggests or LEVELS[0], because, lighter)


def _degree_word(
    text: str, lower: str, start: int, end: int, readings: Mapping[str, str | None]
) -> DegreeWord:
    phrase = plain_phrase(lower[start:end])
    level, strength = readings[phrase], _STRENGTH.get(phrase, 3)
    if level and _NEGATED.search(lower[max(0, start - _REACH_BACK) : start]):
        level, strength = None, 0
    return DegreeWord(start, end, text[start:end], strength, level)


def plain_phrase(phrase: str) -> str:
    """`phrase` as it stands in the table: lower case, single spaces, no emphasis, "-ise", singular."""
    words = " ".join(re.sub(r"[\s*_]+", " ", phrase.lower()).split())
    return re.sub(r"faults$", "fault", words.replace("penaliz", "penalis"))


@lru_cache(maxsize=64)
def _pattern(phrases: tuple[str, ...]) -> re.Pattern[str]:
    longest_first = sorted(phrases, key=len, reverse=True)
    return re.compile(r"(?<![^\W_])(?<!-)(?:" + "|".join(map(_as_regex, longest_first)) + r")(?!-?[^\W_])")


def _as_regex(phrase: str) -> str:
    regex = _GAP.join(re.escape(word) for word in phrase.split())
    regex = regex.replace("penalis", "penali[sz]")
    if phrase == "may":
        return regex + r"(?!\s+\d)"  # the month
    return regex + "s?" if phrase.endswith("fault") else regex
