"""A written standard, as typed or pasted, split into sections and numbered clauses.

What counts as one clause: a numbered or bulleted item, however many sentences it has; in running text, a
sentence. Nothing that was written is left out or changed but marks, numbers, spaces and line ends.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from shared.prose.cleaning import clean_text
from shared.prose.lines import (
    BULLET,
    DOTTED,
    SUBTITLE,
    TITLE,
    Heading,
    Item,
    Line,
    Text,
    ends_sentence,
    is_section_name,
    read_lines,
)
from shared.prose.numbering import ReadClause, ReadSection, SplitClause, SplitSection, number_sections
from shared.prose.sentences import split_sentences

MAX_CLAUSES = 600
LONGEST_CLAUSE = 4_000
UNTITLED = "General"

__all__ = [
    "MAX_CLAUSES",
    "SplitClause",
    "SplitSection",
    "SplitStandard",
    "join_standard",
    "read_standard",
    "split_standard",
]

# A line as short as this, with a capital at the head of the next, was ended on purpose.
_SHORT_LINE = 40
_BROKEN_WORDS_SHOWN = 20
_LIST_FOLLOWS = "This line introduces the clauses below it; they may belong together."
_RUN_TOGETHER = "A list inside this clause was run together."
_JOINED = "A paragraph without a number was joined to this clause."
_BROKEN_WORD = "A hyphen stood at the end of a line: see whether it belongs into “{}”."
_TOO_LONG = f"This clause has more than {LONGEST_CLAUSE:,} characters: cut it."
_NO_HEADING = "No heading stood above these clauses; the section was called “General”."


@dataclass(frozen=True)
class SplitStandard:
    """A whole standard: its title ("" where it has none) and its sections in order."""

    title: str
    sections: tuple[SplitSection, ...]


def split_standard(text: str) -> list[SplitSection]:
    """The sections of a written standard (plain text or Markdown), each with its numbered clauses.

    Numbers that the text gives are kept where they agree with one another; where they do not, the section is
    numbered anew and each clause says so in its `warnings`, as it does where a person should look at the
    cut. A heading without text under it gives a section without clauses, but for the title of the document,
    which is left to `read_standard`.

    Raises `ValueError` for more than 200,000 characters or 600 clauses.
    """
    return list(read_standard(text).sections)


def read_standard(text: str) -> SplitStandard:
    """As `split_standard`, with the title that stands above the first section."""
    lines = read_lines(clean_text(text))
    title, lines = _title(lines)
    sections = _Assembly(_rank_of_sections(lines)).assemble(lines)
    count = sum(max(1, len(section.clauses)) for section in sections)
    if count > MAX_CLAUSES:
        raise ValueError(
            f"The text falls into {count:,} clauses; at most {MAX_CLAUSES} are taken. "
            "Paste the standard alone, or shorten it."
        )
    return SplitStandard(title, tuple(number_sections(sections)))


def join_standard(standard: SplitStandard) -> str:
    """`standard` as Markdown that `read_standard` splits into the same again."""
    parts = [f"# {standard.title}"] if standard.title else []
    for section in standard.sections:
        parts.append(f"## {section.number} {section.title}")
        parts += [f"{clause.number}. {clause.text}" for clause in section.clauses]
    return "\n\n".join(parts) + "\n"


def _title(lines: list[Line]) -> tuple[str, list[Line]]:
    """The title of the document, where the first line is one, and the lines below it."""
    at = next((at for at, line in enumerate(lines) if line is not None), 0)
    first, below = next(iter(lines[at:]), None), lines[at + 1 :]
    headings = [line for line in below if isinstance(line, Heading)]
    if not isinstance(first, Heading) or first.number or first.rest or not headings:
        return "", lines
    empty = next(filter(None, below)) is headings[0]
    outranks = first.rank < min(heading.rank for heading in headings)
    named = is_section_name(first.title)
    is_title = empty + outranks + (not named) >= 2  # two signs of the three
    return (first.title, below) if is_title else ("", lines)


def _rank_of_sections(lines: Sequence[Line]) -> int:
    """The rank of the first heading: what ranks below it stands inside a section."""
    ranks = [line.rank for line in lines if isinstance(line, Heading)]
    return next((rank for rank in ranks if rank != SUBTITLE), TITLE)


@dataclass
class _Assembly:
    """Puts lines together to clauses, and clauses to sections."""

    section_rank: int
    sections: list[ReadSection] = field(default_factory=list)
    paragraph: list[str] = field(default_factory=list)
    item: ReadClause | None = None  # the item that a following line may belong to
    after_blank: bool = False
    lead: str = ""  # a heading inside a section, to stand before its first clause

    def assemble(self, lines: Sequence[Line]) -> list[ReadSection]:
        for line in lines:
            match line:
                case Heading():
                    self._heading(line)
                case Item():
                    self._item(line)
                case Text():
                    self._text(line)
                case None:
                    self._end_paragraph()
            self.after_blank = line is None
        self._end_block()
        for section in self.sections:
            _write(section)
        return [
            section for section in self.sections if section.clauses or _NO_HEADING not in section.warnings
        ]

    def _heading(self, heading: Heading) -> None:
        self._end_block()
        if heading.rank <= self.section_rank:
            self.sections.append(ReadSection(heading.number, heading.title))
        elif len(heading.number) > 1:
            mark = ".".join(map(str, heading.number))
            self.item = ReadClause([], DOTTED, mark, heading.number, lead=heading.title)
            self._section().clauses.append(self.item)
        else:
            self.lead = heading.title
        if heading.rest:
            self._text(Text(heading.rest))

    def _item(self, item: Item) -> None:
        if self.item and self.item.kind > item.kind:
            self.item.lines.append(item.text if item.kind == BULLET else f"{item.mark} {item.text}")
            if _RUN_TOGETHER not in self.item.warnings:
                self.item.warnings.append(_RUN_TOGETHER)
            return
        introduced = self._end_paragraph()
        if introduced and introduced.lines[-1].endswith(":"):
            introduced.warnings.append(_LIST_FOLLOWS)
        self.item = ReadClause([item.text], item.kind, item.mark, item.number, item.places)
        self._add(self.item)

    def _text(self, text: Text) -> None:
        if self.item and (not self.after_blank or self.item.kind > BULLET or text.indented):
            if self.after_blank and any(self.item.lines) and _JOINED not in self.item.warnings:
                self.item.warnings.append(_JOINED)
            self.item.lines.append(text.text)
        else:
            self.item = None
            self.paragraph.append(text.text)

    def _end_paragraph(self) -> ReadClause | None:
        """Turn the running text so far into clauses; the last of them."""
        clause = None
        for lines in _ended_on_purpose(self.paragraph):
            text, broken = _joined(lines)
            for sentence in split_sentences(text):
                clause = ReadClause(
                    [sentence], warnings=_of_broken(word for word in broken if word in sentence)
                )
                self._add(clause)
        self.paragraph = []
        return clause

    def _end_block(self) -> None:
        self._end_paragraph()
        self.item = None
        if self.lead:
            self._add(ReadClause([]))

    def _add(self, clause: ReadClause) -> None:
        clause.lead, self.lead = self.lead, ""
        self._section().clauses.append(clause)

    def _section(self) -> ReadSection:
        if not self.sections:
            self.sections.append(ReadSection((), UNTITLED, warnings=[_NO_HEADING]))
        return self.sections[-1]


def _write(section: ReadSection) -> None:
    """Join the lines of each clause, and leave out those without a word."""
    for clause in section.clauses:
        text, broken = _joined(clause.lines)
        clause.warnings += _of_broken(broken)
        clause.text = ": ".join(part for part in (clause.lead, text) if part)
        if len(clause.text) > LONGEST_CLAUSE:
            clause.warnings.append(_TOO_LONG)
    section.clauses = [clause for clause in section.clauses if any(map(str.isalnum, clause.text))]


def _ended_on_purpose(lines: Sequence[str]) -> list[list[str]]:
    """`lines` in groups: a new one after a short line that ends nothing and that a capital follows."""
    groups: list[list[str]] = []
    for line in lines:
        before = groups[-1][-1] if groups else ""
        goes_on = ends_sentence(before) or len(before) >= _SHORT_LINE or not line[:1].isupper()
        if groups and (goes_on or before.endswith((",", "-"))):
            groups[-1].append(line)
        else:
            groups.append([line])
    return groups


def _joined(lines: Sequence[str]) -> tuple[str, list[str]]:
    """One line of text, and the first words in it that had a hyphen at the end of a line."""
    parts: list[str] = []
    broken: list[str] = []
    for before, line in pairwise(["", *lines]):
        if re.search(r"[^\W\d_]-$", before[-2:]) and line[:1].islower():
            broken.append(before.split()[-1] + line.split()[0].rstrip(".,;:)"))
        else:
            parts.append(" ")
        parts.append(line)
    return " ".join("".join(parts).split()), list(dict.fromkeys(broken))[:_BROKEN_WORDS_SHOWN]


def _of_broken(words: Iterable[str]) -> list[str]:
    return [_BROKEN_WORD.format(word) for word in words]
