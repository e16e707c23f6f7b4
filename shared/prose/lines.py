"""What each line of a written standard is: a heading, a numbered or bulleted item, or running text."""

import re
from dataclasses import dataclass, field

BOLD, CAPITALS, TITLE, SUBTITLE = 7, 8, 9, 10
"""Ranks of headings, highest first; a Markdown heading of level n has rank n."""

LONGEST_TITLE = 160
"""A heading with more characters is taken for text."""

BULLET, LETTER, ORDINAL, DOTTED = range(4)
"""Kinds of item, weakest first: "-", "(a)" or "(ii)", "1." or "1)", "5.1"."""


@dataclass(frozen=True)
class Heading:
    rank: int
    number: tuple[int, ...]
    title: str
    rest: str = ""  # text that runs on in the same line: "HEAD: Clean and dry."


@dataclass(frozen=True)
class Item:
    kind: int
    mark: str
    number: tuple[int, ...]  # of a dotted number
    places: tuple[int, ...]  # what its place in a list can be: (i) is the first, or the ninth after (h)
    text: str


@dataclass(frozen=True)
class Text:
    text: str
    indented: bool = False


Line = Heading | Item | Text | None  # None is a blank line

_HASHES = re.compile(r" {0,3}(#{1,6})(?: |#*$)(.*)$")
_UNDERLINE = re.compile(r" {0,3}(?:={2,}|-{2,}) *$")
_RULE = re.compile(r"[-*_=`~ ]{3,}$")
_BOLD_LINE = re.compile(r"(\*\*|__)([^*_]+)\1:?$")
_BOLD_RUN_IN = re.compile(r"(\*\*|__)([^*_]+?)(?:[.:]\1|\1:) +(\S.*)$")
_CAPITALS_RUN_IN = re.compile(r"([^a-z:.!?]{2,60}?)(?:: *|\. +| +[–—-] +)(\S.*)$")
_TITLE_RUN_IN = re.compile(r"([^:.;!?]{2,60}?)(?:: +| +[–—] +)(\S.*)$")
_NUMBERED = re.compile(r"(?:section +)?(\d{1,3}(?:\.\d{1,3}){0,3})(?:[.):] *(?!\d)| +[–—-] +| +)(.*)$", re.I)

_DOTTED = re.compile(r"\(?(\d{1,3}(?:\.\d{1,3}){1,3})(\.?\)|[.:])?(?: +(.*)|$)")
_ORDINAL = re.compile(r"(?:(\d{1,3})[.)]|\((\d{1,3})\))(?: +(.*)|$)")
_LETTER = re.compile(r"(?:\(([a-zA-Z]|[ivx]{2,6})\)|([a-z]|[ivx]{2,6})\))(?: +(.*)|$)")
_BULLET = re.compile(r"([-*+•·‣◦▪●■–—‒∙]) +(.*)$")
_UNIT = re.compile(
    r"(?:cm|mm|m|kg|g|ins?|inch|inches|ft|lbs?|per cent|percent|degrees?|to|and|or|times)\b|[°%×]"
)
_DASHES = "-–—‒"
_BEFORE_TITLE, _AFTER_TITLE = " #*_-–—.:)", " #*_:"

_SECTION_NAMES = """
general appearance impression overall characteristics character temperament behaviour behavior head skull
headpiece foreface muzzle eyes eye ears ear mouth bite jaws teeth neck forequarters front shoulders body
chest back loin croup topline hindquarters rear quarters feet foot tail coat hair colour color colours
colors markings size height weight proportions movement gait action faults disqualifications disqualifying
severe serious eliminating utility history origin important note notes
"""
_SECTION_WORDS = frozenset(_SECTION_NAMES.split())
_JOINING = frozenset(["and", "&", "/", ",", "of"])
_ROMAN = {"i": 1, "v": 5, "x": 10}
_MOST_CHARACTERS = 80
_SHOUTING = 0.9  # share of capitals above which capitals say nothing


def read_lines(text: str) -> list[Line]:
    """One entry for each line of `text` (cleaned); rules and the underlines of headings count as blank.

    "Head: clean and dry" is a heading only for the usual section names, and only where the text has no
    plainer headings.
    """
    lines = text.split("\n")
    capitals_mean_heading = sum(map(str.isupper, text)) < _SHOUTING * sum(map(str.isalpha, text))
    found = _Reader(lines, capitals_mean_heading).read()
    if any(isinstance(line, Heading) for line in found):
        return found
    return _Reader(lines, capitals_mean_heading, run_in_titles=True).read()


def heading_of(rank: int, text: str, rest: str = "") -> Heading | None:
    """A heading, its number and marks taken off; None where no word is left or it is too long for one."""
    title = text.lstrip(_BEFORE_TITLE).rstrip(_AFTER_TITLE)
    if len(title) > LONGEST_TITLE:
        return None
    numbered = _NUMBERED.match(title)
    if numbered and _wordy(numbered[2]):
        return Heading(rank, tuple(map(int, numbered[1].split("."))), numbered[2].lstrip(_BEFORE_TITLE), rest)
    return Heading(rank, (), title, rest) if _wordy(title) else None


def is_section_name(title: str) -> bool:
    words = re.findall(r"[^\W\d_]+|[&/,]", title.lower())
    return any(word in _SECTION_WORDS for word in words) and all(
        word in _SECTION_WORDS or word in _JOINING for word in words
    )


def ends_sentence(text: str) -> bool:
    return text.rstrip("\"'”’»)]*_ ").endswith((".", "!", "?", ":", ";", "…"))


@dataclass
class _Reader:
    lines: list[str]
    capitals_mean_heading: bool
    run_in_titles: bool = False
    last: Line = None
    last_item: Item | None = None  # under the heading that stands last
    found: list[Line] = field(default_factory=list)

    def read(self) -> list[Line]:
        following = _next_filled(self.lines)
        for at, line in enumerate(self.lines):
            underlined = at + 1 < len(self.lines) and _UNDERLINE.match(self.lines[at + 1])
            heading = None
            if underlined and self.last is None and not _item(line.strip()):
                heading = heading_of(1 if "=" in self.lines[at + 1] else 2, line)
            self.last = heading or self._line(line, following[at])
            if isinstance(self.last, Item | Heading):
                self.last_item = self.last if isinstance(self.last, Item) else None
            self.found.append(self.last)
        return self.found

    def _line(self, line: str, following: str) -> Line:
        stripped = re.sub(r"^(?:> ?)+", "", line.strip()).strip()
        if not stripped or _RULE.match(stripped):
            return None
        if hashes := _HASHES.match(line):
            return heading_of(len(hashes[1]), hashes[2]) or (Text(hashes[2]) if _wordy(hashes[2]) else None)
        fresh = not isinstance(self.last, Text | Item) or ends_sentence(self.last.text)
        heading = (self._heading if fresh else self._heading_amid_text)(stripped, following)
        if heading:
            return heading
        item = _item(stripped)
        if item and (fresh or self._is_next(item)):
            return item
        return Text(stripped, indented=line.startswith(("  ", "\t")))

    def _heading(self, line: str, following: str) -> Heading | None:
        if bold := _BOLD_LINE.match(line):
            return heading_of(BOLD, bold[2])
        if run_in := _BOLD_RUN_IN.match(line):
            return heading_of(BOLD, run_in[2], run_in[3])
        return self._capitals(line) or self._numbered(line, following) or self._title(line, following)

    def _heading_amid_text(self, line: str, following: str) -> Heading | None:
        """A heading where the line before it has not ended its sentence: only a plain one."""
        if heading := self._capitals(line):
            return heading
        number = re.match(r"\d{1,3}[.)]? ", line)
        named = is_section_name(line[number.end() :] if number else line) and line.rstrip(":")[-1:].isalpha()
        amid_items = isinstance(self.last, Item) and following[:1] and not following[:1].islower()
        return heading_of(TITLE, line) if named and amid_items and (number or _is_title(line)) else None

    def _capitals(self, line: str) -> Heading | None:
        if not self.capitals_mean_heading or _DOTTED.match(line):
            return None
        if _is_capitals(line):
            return heading_of(CAPITALS, line.rstrip("."))
        run_in = _CAPITALS_RUN_IN.match(line)
        return heading_of(CAPITALS, run_in[1], run_in[2]) if run_in and _is_capitals(run_in[1]) else None

    def _numbered(self, line: str, following: str) -> Heading | None:
        found = _NUMBERED.match(line)
        if not found or not _is_title(found[2]) or _UNIT.match(found[2]):
            return None
        if "." in found[1]:  # "5.1 Skull" over its text
            over_text = following and not _item(following) and not _is_capitals(following)
            plain = over_text and not _HASHES.match(following) and ends_sentence(following)
            return heading_of(SUBTITLE, line) if plain and len(found[2].split()) <= 4 else None
        beside = _item(following)
        listed = beside is not None and beside.kind == ORDINAL
        bare = re.match(r"\d+ ", line) is not None
        if is_section_name(found[2]) and not (listed and not _is_title(beside.text if beside else "")):
            return heading_of(TITLE, line)
        own = _item(line)
        goes_on = own is not None and self.last_item is not None and self._is_next(own)
        return None if bare or listed or goes_on or not following else heading_of(TITLE, line)

    def _title(self, line: str, following: str) -> Heading | None:
        run_in = _TITLE_RUN_IN.match(line) if self.run_in_titles else None
        if run_in and is_section_name(run_in[1]):
            return heading_of(TITLE, run_in[1], run_in[2])
        if not following or _item(line) or not _is_title(line):
            return None
        if is_section_name(line):
            return heading_of(TITLE, line)
        if self.last is not None:
            return None
        over_list = _item(following) is not None
        over_text = following[0].isupper() and not _is_title(following)
        over_sections = is_section_name(following) and not any(self.found)
        return heading_of(TITLE, line) if over_list or over_text or over_sections else None

    def _is_next(self, item: Item) -> bool:
        """Whether an item may begin where the line before it has not ended its sentence."""
        before = self.last_item
        if item.kind == BULLET and item.mark not in _DASHES:
            return True
        if before is None or item.kind == BULLET:
            return before is not None and (isinstance(self.last, Item) or before.mark == item.mark)
        if item.kind == DOTTED:
            return item.number > before.number
        return any(place - 1 in before.places for place in item.places)


def _next_filled(lines: list[str]) -> list[str]:
    """For each line the next one that is not blank, or ""."""
    following, after = [""] * len(lines), ""
    for at in range(len(lines) - 1, -1, -1):
        following[at] = after
        after = lines[at].strip() or after
    return following


def _item(line: str) -> Item | None:
    if found := _DOTTED.match(line):
        text = found[3] or ""
        number = tuple(map(int, found[1].split(".")))
        return Item(DOTTED, found[1], number, (), text) if found[2] or not _UNIT.match(text) else None
    if found := _ORDINAL.match(line):
        digits = found[1] or found[2]
        return Item(ORDINAL, digits, (), (int(digits),), found[3] or "")
    if found := _LETTER.match(line):
        letters = found[1] or found[2]
        return Item(LETTER, f"({letters})", (), _places(letters.lower()), found[3] or "")
    if found := _BULLET.match(line):
        return Item(BULLET, found[1], (), (), found[2])
    return None


def _places(letters: str) -> tuple[int, ...]:
    """The places that a letter or a small roman numeral can stand for."""
    places: tuple[int, ...] = (ord(letters) - ord("a") + 1,) if len(letters) == 1 else ()
    if set(letters) <= set(_ROMAN):
        values = [_ROMAN[letter] for letter in letters]
        places += (sum(-a if a < b else a for a, b in zip(values, [*values[1:], 0], strict=True)),)
    return places


def _is_capitals(line: str) -> bool:
    letters = [character for character in line if character.isalpha()]
    if len(letters) < 3 or not all(map(str.isupper, letters)) or len(line) > _MOST_CHARACTERS:
        return False
    words = len(line.split())
    return words <= 8 and (not line.endswith((".", "!", ";", ",")) or words <= 3)


def _is_title(line: str) -> bool:
    """Short, begins with a capital, does not end like a sentence."""
    return (
        len(line) <= _MOST_CHARACTERS
        and len(line.split()) <= 6
        and line[:1].isupper()
        and not line.endswith((".", ",", ";", "!", "?", "…", "-"))
    )


def _wordy(text: str) -> bool:
    return any(map(str.isalnum, text))
