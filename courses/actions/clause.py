"""Clauses: worded, read, ordered, split, joined, added and removed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from django.core.exceptions import ValidationError
from django.utils import timezone
from django.utils.translation import gettext as _

from courses import numbering
from courses.actions.edition_steps import changing, check_unused
from courses.models import Clause, Edition, Fault, Section
from courses.refusals import Refused
from courses.validators import check_measure, check_number
from shared.accounts.models import Person
from shared.prose.zones import suggest_zone
from shared.web.limits import CLAUSES_PER_EDITION

Direction = Literal["up", "down"]


@dataclass(frozen=True)
class Read:
    """What the club reads from a clause. `settled` with no severity: it weighs nothing by itself."""

    zone: str
    settled: bool = False
    severity: int | None = None
    measure: str = ""
    low: float | None = None
    high: float | None = None


def change_clause(*, clause: Clause, by: Person, number: str, text: str, read: Read) -> Clause:
    """Its number and wording, while the edition is a draft, and what the club reads from it."""
    wording = (number, text) != (clause.number, clause.text)
    with changing(clause.edition, _("changing %(n)s") % {"n": clause.number}, by, wording=wording) as edition:
        read_again(clause)
        if number != clause.number:
            check_free(edition, number, besides=clause)
        clause.number, clause.text = number, text
        _take(clause, read, by)
        clause.save()
    return clause


def add_clause(
    *, section: Section, by: Person, number: str, text: str, read: Read, after: Clause | None = None
) -> Clause:
    """A new clause behind another one, or at the end of the section."""
    with changing(section.edition, _("adding %(n)s") % {"n": number}, by) as edition:
        check_room(edition, 1)
        check_free(edition, number)
        others = list(section.clauses.all())
        clause = Clause(edition=edition, section=section, position=0, number=number, text=text)
        _take(clause, read, by)
        clause.save()
        place = others.index(after) + 1 if after in others else len(others)
        put_in_order(section, [*others[:place], clause, *others[place:]])
    return clause


def remove_clause(*, clause: Clause, by: Person) -> None:
    """Take a clause out. Its faults stay on the club's list without a clause, until this is undone."""
    with changing(clause.edition, _("removing %(n)s") % {"n": clause.number}, by):
        check_unused(Clause.objects.filter(pk=clause.pk))
        section = read_again(clause).section
        clause.delete()
        put_in_order(section, list(section.clauses.all()))


def move_clause(*, clause: Clause, by: Person, direction: Direction) -> set[Section]:
    """One place up or down; past the end of its section, into the one beside it. The sections it touched."""
    label = {"up": _("moving %(n)s up"), "down": _("moving %(n)s down")}[direction] % {"n": clause.number}
    with changing(clause.edition, label, by):
        section = read_again(clause).section
        clauses = list(section.clauses.all())
        place = clauses.index(clause) + (-1 if direction == "up" else 1)
        if 0 <= place < len(clauses):
            clauses.remove(clause)
            put_in_order(section, [*clauses[:place], clause, *clauses[place:]])
            return {section}
        return {section, _cross(clause, section, direction)}


def place_clause(*, clause: Clause, section: Section, by: Person) -> None:
    """To the end of another section. It keeps its number until that section is renumbered."""
    label = _("moving %(n)s to section %(to)s") % {"n": clause.number, "to": section.number}
    with changing(clause.edition, label, by):
        left = read_again(clause).section
        put_in_order(section, [*section.clauses.exclude(pk=clause.pk), clause])
        put_in_order(left, list(left.clauses.all()))


def split_clause(*, clause: Clause, by: Person, texts: list[str]) -> list[Clause]:
    """One clause becomes several. What hangs on it stays with the first; severities are to be confirmed."""
    if len(texts) < 2:
        raise Refused(_("Leave an empty line in the wording where the clause is to be split."))
    with changing(clause.edition, _("splitting %(n)s") % {"n": clause.number}, by) as edition:
        check_room(edition, len(texts) - 1)
        read_again(clause).text = texts[0]
        _unsettle(clause)
        clause.save()
        pieces = [clause]
        taken = set(edition.clauses.values_list("number", flat=True))
        for text in texts[1:]:
            number = numbering.next_number(pieces[-1].number, taken)
            taken.add(number)
            piece = Clause(edition=edition, section=clause.section, position=0, number=number, text=text)
            piece.zone = clause.zone
            piece.save()
            pieces.append(piece)
        others = [other for other in clause.section.clauses.all() if other not in pieces[1:]]
        place = others.index(clause)
        put_in_order(clause.section, [*others[:place], *pieces, *others[place + 1 :]])
    return pieces


def join_with_next(*, clause: Clause, by: Person) -> Clause:
    """The next clause's wording follows this one's; its faults come along, and severity is confirmed anew."""
    following = next_in_section(clause)
    if following is None:
        raise Refused(_("No clause follows in this section."))
    names = {"one": clause.number, "other": following.number}
    if len(clause.text) + len(following.text) + 1 > Clause._meta.get_field("text").max_length:
        raise Refused(_("%(one)s and %(other)s are too long to be one clause.") % names)
    with changing(clause.edition, _("joining %(one)s and %(other)s") % names, by):
        check_unused(Clause.objects.filter(pk=following.pk))
        read_again(clause).text = f"{clause.text} {read_again(following).text}"
        if not clause.measure:
            clause.measure, clause.low, clause.high = following.measure, following.low, following.high
        _unsettle(clause)
        clause.save()
        Fault.objects.filter(clause=following).update(clause=clause)
        following.delete()
        put_in_order(clause.section, list(clause.section.clauses.all()))
    return clause


def confirm_severity(*, clause: Clause, by: Person, severity: int | None) -> Clause:
    """The educator's word on how much a clause weighs; None: nothing by itself."""
    label = _("confirming the severity of %(n)s") % {"n": clause.number}
    with changing(clause.edition, label, by, wording=False):
        settle(read_again(clause), severity, by)
        clause.save()
    return clause


def next_in_section(clause: Clause) -> Clause | None:
    """The clause that follows, if one does."""
    clauses = list(clause.section.clauses.all())
    place = clauses.index(clause) + 1
    return clauses[place] if place < len(clauses) else None


def read_again(clause: Clause) -> Clause:
    """The clause as it is now that no one else can change the edition; Refused if it is gone."""
    try:
        clause.refresh_from_db()
    except Clause.DoesNotExist as gone:
        raise Refused(_("%(n)s has been removed meanwhile.") % {"n": clause.number}) from gone
    return clause


def settle(clause: Clause, severity: int | None, by: Person) -> None:
    """Set a confirmed severity on a clause that is saved later."""
    clause.severity, clause.severity_confirmed_by = severity, by
    clause.severity_confirmed_at = timezone.now()


def put_in_order(section: Section, clauses: list[Clause]) -> None:
    """Write the places of a section's clauses, only those that changed."""
    changed = []
    for position, clause in enumerate(clauses, 1):
        if (clause.position, clause.section_id) != (position, section.pk):
            clause.position, clause.section = position, section
            changed.append(clause)
    Clause.objects.bulk_update(changed, ["position", "section"])


def check_free(edition: Edition, number: str, besides: Clause | None = None) -> None:
    """Raise ValidationError for a number that is none, or that another clause of the edition bears."""
    check_number(number)
    others = edition.clauses.filter(number__iexact=number)
    if besides:
        others = others.exclude(pk=besides.pk)
    if others.exists():
        raise ValidationError({"number": _("Another clause of this edition bears %(n)s.") % {"n": number}})


def check_room(edition: Edition, more: int) -> None:
    """Raise Refused where an edition would have more clauses than are taken."""
    if edition.clauses.count() + more > CLAUSES_PER_EDITION:
        raise Refused(_("An edition has at most %(n)d clauses.") % {"n": CLAUSES_PER_EDITION})


def zone_for(section: Section, text: str) -> str:
    """The zone that a new clause's words suggest."""
    return suggest_zone(section.title, text)


def _take(clause: Clause, read: Read, by: Person) -> None:
    check_measure(read.measure, read.low, read.high)
    clause.zone = read.zone
    clause.measure, clause.low, clause.high = read.measure, read.low, read.high
    if read.settled and (clause.severity_confirmed_at is None or clause.severity != read.severity):
        settle(clause, read.severity, by)


def _unsettle(clause: Clause) -> None:
    clause.severity = clause.severity_confirmed_by = clause.severity_confirmed_at = None


def _cross(clause: Clause, section: Section, direction: Direction) -> Section:
    """Put a clause at the near end of the section above or below."""
    sections = list(section.edition.sections.all())
    place = sections.index(section) + (-1 if direction == "up" else 1)
    if not 0 <= place < len(sections):
        raise Refused(_("%(n)s cannot go any further.") % {"n": clause.number})
    other = sections[place]
    there = list(other.clauses.all())
    put_in_order(other, [*there, clause] if direction == "up" else [clause, *there])
    put_in_order(section, list(section.clauses.all()))
    return other
