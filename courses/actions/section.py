"""Sections: added from a pasted text or by hand, named, ordered, renumbered and removed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from courses.actions.clause import Direction, check_room, settle
from courses.actions.edition_steps import changing, check_unused
from courses.models import Clause, Edition, Section
from courses.queries.severity import ladder_of, reading_of, readings_of
from courses.refusals import Refused
from courses.validators import check_number
from shared.accounts.models import Person
from shared.web.limits import SECTIONS_PER_EDITION


@dataclass(frozen=True)
class NewClause:
    """A clause of a pasted text, as it was reviewed."""

    number: str
    text: str
    zone: str


@dataclass(frozen=True)
class NewSection:
    """A section of a pasted text, as it was reviewed."""

    number: str
    title: str
    clauses: Sequence[NewClause] = field(default_factory=tuple)


def add_pasted(*, edition: Edition, by: Person, sections: Sequence[NewSection]) -> None:
    """Put reviewed sections behind those that are there, as one step."""
    count = sum(len(section.clauses) for section in sections)
    label = ngettext("adding %(n)d pasted clause", "adding %(n)d pasted clauses", count) % {"n": count}
    with changing(edition, label, by) as held:
        check_room(held, count)
        _check_sections(held, [section.number for section in sections])
        _check_clauses(held, [clause.number for section in sections for clause in section.clauses])
        first = held.sections.count() + 1
        rows = [
            Section(edition=held, position=first + i, number=section.number, title=section.title)
            for i, section in enumerate(sections)
        ]
        Section.objects.bulk_create(rows)
        Clause.objects.bulk_create(
            Clause(
                edition=held,
                section=row,
                position=position,
                number=clause.number,
                text=clause.text,
                zone=clause.zone,
            )
            for row, section in zip(rows, sections, strict=True)
            for position, clause in enumerate(section.clauses, 1)
        )


def add_section(*, edition: Edition, by: Person, number: str, title: str) -> Section:
    """An empty section at the end."""
    with changing(edition, _("adding section %(n)s") % {"n": number}, by) as held:
        _check_sections(held, [number])
        return Section.objects.create(
            edition=held, position=held.sections.count() + 1, number=number, title=title
        )


def name_section(*, section: Section, by: Person, number: str, title: str) -> Section:
    """Its number and heading."""
    with changing(section.edition, _("naming section %(n)s") % {"n": section.number}, by) as held:
        if number != section.number:
            _check_sections(held, [number])
        section.number, section.title = number, title
        section.save(update_fields=["number", "title"])
    return section


def move_section(*, section: Section, by: Person, direction: Direction) -> None:
    """One place up or down."""
    label = {"up": _("moving section %(n)s up"), "down": _("moving section %(n)s down")}[direction]
    with changing(section.edition, label % {"n": section.number}, by) as held:
        sections = list(held.sections.all())
        place = sections.index(section) + (-1 if direction == "up" else 1)
        if not 0 <= place < len(sections):
            raise Refused(_("Section %(n)s cannot go any further.") % {"n": section.number})
        sections.remove(section)
        _put_in_order([*sections[:place], section, *sections[place:]])


def remove_section(*, section: Section, by: Person) -> None:
    """Take out a section with its clauses."""
    with changing(section.edition, _("removing section %(n)s") % {"n": section.number}, by) as held:
        check_unused(section.clauses.all())
        section.delete()
        _put_in_order(list(held.sections.all()))


def renumber_section(*, section: Section, by: Person) -> None:
    """Number its clauses anew in their order: 5.1, 5.2, …"""
    with changing(section.edition, _("renumbering section %(n)s") % {"n": section.number}, by) as held:
        clauses = list(section.clauses.all())
        numbers = [f"{section.number}.{place}" for place in range(1, len(clauses) + 1)]
        elsewhere = held.clauses.exclude(section=section).filter(number__in=numbers).first()
        if elsewhere:
            raise Refused(
                _("%(n)s stands in section %(there)s. Renumber that section first.")
                % {"n": elsewhere.number, "there": elsewhere.section.number}
            )
        for clause, number in zip(clauses, numbers, strict=True):
            check_number(number)
            clause.number = number
        Clause.objects.bulk_update(clauses, ["number"])


def confirm_section(*, section: Section, by: Person) -> int:
    """Confirm every suggestion of a section; clauses without words of degree weigh nothing. How many."""
    label = _("confirming the severities of section %(n)s") % {"n": section.number}
    with changing(section.edition, label, by, wording=False) as held:
        scale, readings = ladder_of(held.breed.club), readings_of(held.breed)
        clauses = list(section.clauses.filter(severity_confirmed_at=None))
        for clause in clauses:
            reading = reading_of(clause.text, readings, scale)
            settle(clause, reading.level if reading else None, by)
        Clause.objects.bulk_update(clauses, ["severity", "severity_confirmed_by", "severity_confirmed_at"])
    return len(clauses)


def _put_in_order(sections: list[Section]) -> None:
    changed = []
    for position, section in enumerate(sections, 1):
        if section.position != position:
            section.position = position
            changed.append(section)
    Section.objects.bulk_update(changed, ["position"])


def _check_sections(edition: Edition, numbers: list[str]) -> None:
    there = {number.casefold() for number in edition.sections.values_list("number", flat=True)}
    if len(there) + len(numbers) > SECTIONS_PER_EDITION:
        raise Refused(_("An edition has at most %(n)d sections.") % {"n": SECTIONS_PER_EDITION})
    _check_numbers(numbers, there, _("Another section bears %(n)s."))


def _check_clauses(edition: Edition, numbers: list[str]) -> None:
    there = {number.casefold() for number in edition.clauses.values_list("number", flat=True)}
    _check_numbers(numbers, there, _("Another clause of this edition bears %(n)s."))


def _check_numbers(numbers: list[str], there: set[str], taken: str) -> None:
    for number in numbers:
        check_number(number)
        if number.casefold() in there:
            raise ValidationError({"number": taken % {"n": number}})
        there.add(number.casefold())
