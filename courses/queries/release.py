"""What an edition still lacks before it can be released, and what its release sets in motion."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from courses.models import Edition, Fault
from courses.models.choices import Zone
from courses.queries.comparison import successors
from courses.queries.standard import edition_in_force, parts_of

_NAMED = 12  # clauses that are named one by one; of more, the rest is counted


@dataclass(frozen=True)
class Missing:
    """One thing to do first, and where: the id of a section or a clause on the edition's page, or ""."""

    text: str
    anchor: str = ""


@dataclass(frozen=True)
class Consequences:
    """What releasing does: the edition that retires, faults that move, faults whose clause is gone."""

    retires: Edition | None
    moving: int
    left_behind: list[Fault]


def missing_for_release(edition: Edition) -> list[Missing]:
    """Empty when the edition may be released."""
    found = []
    if not edition.reproduced_by.strip():
        found.append(Missing(_("Say under which permission the standard is reproduced."), "details"))
    parts = parts_of(edition)
    if not parts:
        return [*found, Missing(_("There is no clause yet."))]
    for part in parts:
        section = part.section
        anchor = f"section-{section.pk}"
        if not part.entries:
            found.append(Missing(_("Section %(n)s has no clause.") % {"n": section.number}, anchor))
        zoneless = [e.clause.number for e in part.entries if e.clause.zone not in Zone.values]
        if zoneless:
            found.append(Missing(_("No zone is given for %(which)s.") % {"which": _names(zoneless)}, anchor))
        if part.open:
            numbers = [entry.clause.number for entry in part.open]
            said = ngettext(
                "The severity of %(which)s is not confirmed.",
                "The severities of %(which)s are not confirmed.",
                len(numbers),
            )
            found.append(Missing(said % {"which": _names(numbers)}, anchor))
    return found


def consequences_of_release(edition: Edition) -> Consequences:
    """What will happen to the edition in force and to the faults that name its clauses."""
    retires = edition_in_force(edition.breed)
    if retires is None:
        return Consequences(None, 0, [])
    lives_on = successors(retires, edition)
    faults = Fault.objects.filter(clause__edition=retires).select_related("clause")
    left = [fault for fault in faults if fault.clause_id not in lives_on]
    return Consequences(retires, len(faults) - len(left), left)


def _names(numbers: list[str]) -> str:
    if len(numbers) <= _NAMED:
        return ", ".join(numbers)
    more = len(numbers) - _NAMED
    return _("%(first)s and %(more)d more") % {"first": ", ".join(numbers[:_NAMED]), "more": more}
