"""A pasted standard as it was split, for a person to look over before anything is saved.

The whole state travels in the form: a heading's number and title, then for each clause its section, number,
wording, zone, and what the splitter noted. So every button works without script, and going back loses nothing.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field

from django.core.exceptions import ValidationError
from django.http import QueryDict
from django.utils.translation import gettext as _

from courses import numbering
from courses.actions.section import NewClause, NewSection
from courses.models import Clause, Edition, Section
from courses.models.choices import Zone
from courses.validators import check_number
from shared.prose.numbering import SplitClause, SplitSection
from shared.prose.splitting import SplitStandard, join_standard, read_standard
from shared.prose.zones import suggest_zone

_EMPTY_LINE = re.compile(r"\n\s*\n")
_HEADING_AT_MOST = 60  # characters of a clause that can be meant as a heading
TEXT_AT_MOST = Clause._meta.get_field("text").max_length
TITLE_AT_MOST = Section._meta.get_field("title").max_length


class Damaged(ValueError):
    """The form did not come back whole."""


@dataclass
class ReviewedClause:
    """A clause to be; `out` leaves it out, `opened` shows its fields."""

    number: str
    text: str
    zone: str
    notes: list[str] = field(default_factory=list)
    out: bool = False
    opened: bool = False
    errors: list[str] = field(default_factory=list)
    place: int = 0


@dataclass
class ReviewedSection:
    """A section to be, with its clauses."""

    number: str
    title: str
    notes: list[str] = field(default_factory=list)
    clauses: list[ReviewedClause] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)


@dataclass
class Review:
    """What will be saved, as it stands."""

    title: str
    sections: list[ReviewedSection]

    @classmethod
    def of_text(cls, text: str) -> Review:
        """Split a text. Raises ValueError, in words for people, where it is too much."""
        read = read_standard(text)
        review = cls(read.title, [_reviewed(section) for section in read.sections])
        review._count()
        return review

    @classmethod
    def of_form(cls, data: QueryDict) -> Review:
        """The state that a form brought back. Raises Damaged where pieces are missing."""
        sections = [
            ReviewedSection(number.strip(), title.strip(), _lines(notes))
            for number, title, notes in _columns(data, "section", "number", "title", "notes")
        ]
        out = set(data.getlist("clause-out"))
        columns = _columns(data, "clause", "section", "number", "text", "zone", "notes")
        for place, (home, number, text, zone, notes) in enumerate(columns):
            if not home.isdigit() or int(home) >= len(sections):
                raise Damaged(f"clause {place} is in section {home[:9]!r}")
            words = text.replace("\r\n", "\n").strip()
            clause = ReviewedClause(number.strip(), words, zone, _lines(notes), str(place) in out)
            sections[int(home)].clauses.append(clause)
        review = cls(data.get("title", ""), sections)
        review._count()
        return review

    def act(self, word: str) -> None:
        """Do what a button named: "join-12", "split-12", "head-12" for clauses, "merge-3" for sections."""
        name, _dash, place = word.partition("-")
        acts: dict[str, Callable[[int], None]] = {
            "join": self._join,
            "split": self._split,
            "head": self._begin_section,
            "merge": self._merge,
        }
        if name in acts and place.isdigit():
            acts[name](int(place))
            self._count()

    @property
    def clauses(self) -> list[ReviewedClause]:
        """All clauses in order."""
        return [clause for section in self.sections for clause in section.clauses]

    @property
    def kept(self) -> list[ReviewedClause]:
        """Those that are not left out."""
        return [clause for clause in self.clauses if not clause.out]

    @property
    def noted(self) -> int:
        """How many things the splitter asks a person to look at."""
        return sum(
            len(section.notes) + sum(len(c.notes) for c in section.clauses) for section in self.sections
        )

    def check(self, edition: Edition) -> bool:
        """Write what is wrong beside its cause; whether nothing is."""
        taken = {n.casefold() for n in edition.clauses.values_list("number", flat=True)}
        headed = {n.casefold() for n in edition.sections.values_list("number", flat=True)}
        for section in self.sections:
            section.errors = _wrong_number(section.number, headed, _("Another section bears %(n)s."))
            section.errors += _wrong_length(section.title, TITLE_AT_MOST, _("The heading"))
            for clause in section.clauses:
                clause.errors = []
                if clause.out:
                    continue
                clause.errors = _wrong_number(clause.number, taken, _("Another clause bears %(n)s."))
                clause.errors += _wrong_length(clause.text, TEXT_AT_MOST, _("The wording"))
                if clause.zone not in Zone.values:
                    clause.errors.append(_("Choose a zone."))
                clause.opened = clause.opened or bool(clause.errors)
        return not self.wrong

    @property
    def wrong(self) -> int:
        """How many things are to be mended."""
        return sum(
            len(section.errors) + sum(len(c.errors) for c in section.clauses) for section in self.sections
        )

    def new_sections(self) -> list[NewSection]:
        """What the action saves."""
        return [
            NewSection(
                section.number,
                section.title,
                [NewClause(c.number, c.text, c.zone) for c in section.clauses if not c.out],
            )
            for section in self.sections
        ]

    def as_text(self) -> str:
        """The standard as text that splits into the same again, what is left out included."""
        sections = tuple(
            SplitSection(s.number, s.title, tuple(SplitClause(c.number, c.text) for c in s.clauses))
            for s in self.sections
        )
        return join_standard(SplitStandard(self.title, sections))

    def _at(self, place: int) -> tuple[ReviewedSection, int] | None:
        for section in self.sections:
            if place < len(section.clauses):
                return section, place
            place -= len(section.clauses)
        return None

    def _join(self, place: int) -> None:
        found = self._at(place)
        if found and found[1] > 0:
            section, i = found
            before, clause = section.clauses[i - 1], section.clauses.pop(i)
            before.text, before.opened = f"{before.text} {clause.text}", True

    def _split(self, place: int) -> None:
        found = self._at(place)
        if not found:
            return
        section, i = found
        clause = section.clauses[i]
        clause.opened = True
        first, *others = [text.strip() for text in _EMPTY_LINE.split(clause.text) if text.strip()] or [""]
        if not others:
            clause.errors = [_("Leave an empty line in the wording where it is to be split.")]
            return
        clause.text = first
        for text in others:
            i += 1
            number = numbering.next_number(section.clauses[i - 1].number, self._numbers())
            section.clauses.insert(i, ReviewedClause(number, text, clause.zone, opened=True))

    def _begin_section(self, place: int) -> None:
        """A clause that was a heading becomes one; before any other an empty heading is set."""
        found = self._at(place)
        if not found:
            return
        section, i = found
        clause = section.clauses[i]
        heading = len(clause.text) <= _HEADING_AT_MOST and not clause.text.endswith((".", ";", ","))
        number = numbering.next_number(section.number, {s.number for s in self.sections})
        begun = ReviewedSection(number, clause.text.rstrip(":") if heading else "")
        begun.clauses = section.clauses[i + 1 if heading else i :]
        del section.clauses[i:]
        self.sections.insert(self.sections.index(section) + 1, begun)

    def _merge(self, place: int) -> None:
        """A heading that was none becomes a clause, since its words are the standard's."""
        if not 0 < place < len(self.sections):
            return
        gone, home = self.sections.pop(place), self.sections[place - 1]
        if gone.title:
            last = home.clauses[-1].number if home.clauses else f"{home.number}.0"
            number = numbering.next_number(last, self._numbers() | {c.number for c in gone.clauses})
            home.clauses.append(
                ReviewedClause(number, gone.title, suggest_zone(home.title, gone.title), opened=True)
            )
        home.clauses += gone.clauses

    def _numbers(self) -> set[str]:
        return {clause.number for clause in self.clauses}

    def _count(self) -> None:
        place = 0
        for section in self.sections:
            for clause in section.clauses:
                clause.place = place
                place += 1


def _reviewed(section: SplitSection) -> ReviewedSection:
    clauses = [
        ReviewedClause(
            clause.number, clause.text, suggest_zone(section.title, clause.text), [*clause.warnings]
        )
        for clause in section.clauses
    ]
    return ReviewedSection(section.number, section.title, [*section.warnings], clauses)


def _columns(data: QueryDict, kind: str, *names: str) -> list[tuple[str, ...]]:
    columns = [data.getlist(f"{kind}-{name}") for name in names]
    if len({len(column) for column in columns}) > 1:
        raise Damaged(f"{kind}: {[len(column) for column in columns]}")
    return list(zip(*columns, strict=True))


def _lines(notes: str) -> list[str]:
    return [line.strip() for line in notes.split("\n") if line.strip()]


def _wrong_number(number: str, taken: set[str], said: str) -> list[str]:
    try:
        check_number(number)
    except ValidationError as wrong:
        return wrong.messages
    if number.casefold() in taken:
        return [said % {"n": number}]
    taken.add(number.casefold())
    return []


def _wrong_length(text: str, most: int, what: str) -> list[str]:
    if not text:
        return [_("%(what)s is empty.") % {"what": what}]
    if len(text) > most:
        said = _("%(what)s has %(n)d characters; at most %(most)d are taken. Split it.")
        return [said % {"what": what, "n": len(text), "most": most}]
    return []
