"""The club's list of faults: added, changed, taken off, and read from lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import ProtectedError
from django.utils.translation import gettext as _

from courses.models import Breed, Clause, Fault
from courses.queries.fault import uses_told
from courses.refusals import Refused
from shared.web.limits import FAULTS_PER_BREED, NAMES_PER_FAULT


@dataclass(frozen=True)
class Named:
    """What the list says of a fault; `level` counts from 0 on the club's ladder.

    `figure` is the drawn figure's preset that shows it; None leaves what the list has.
    """

    name: str
    zone: str
    level: int
    virtue: str = ""
    clause: Clause | None = None
    other_names: Sequence[str] = field(default_factory=tuple)
    figure: str | None = None


@transaction.atomic
def add_fault(*, breed: Breed, named: Named) -> Fault:
    """Put a fault on the breed's list, once."""
    return _save(Fault(breed=Breed.objects.select_for_update().get(pk=breed.pk)), named)


@transaction.atomic
def change_fault(*, fault: Fault, named: Named) -> Fault:
    """What is marked already keeps the words and levels it was marked by."""
    Breed.objects.select_for_update().get(pk=fault.breed_id)
    return _save(fault, named)


@transaction.atomic
def add_faults(*, breed: Breed, named: Sequence[Named]) -> list[Fault]:
    """Several faults at once, all or none."""
    return [add_fault(breed=breed, named=one) for one in named]


def remove_fault(*, fault: Fault) -> None:
    """Take a fault off the list. Raises Refused, saying where, while an exhibit or a key shows it."""
    try:
        with transaction.atomic():
            fault.delete()
    except ProtectedError as used:
        raise Refused(
            _("“%(fault)s” stays on the list, since it is in use: %(where)s.")
            % {"fault": fault.name, "where": uses_told(used)}
        ) from used


def _save(fault: Fault, named: Named) -> Fault:
    others = fault.breed.faults.exclude(pk=fault.pk)
    if fault.pk is None and others.count() >= FAULTS_PER_BREED:
        raise Refused(_("A breed's list has at most %(n)d faults.") % {"n": FAULTS_PER_BREED})
    if any(name.casefold() == named.name.casefold() for name in others.values_list("name", flat=True)):
        raise ValidationError({"name": _("The list has “%(name)s” already.") % {"name": named.name}})
    if len(named.other_names) > NAMES_PER_FAULT:
        raise ValidationError(
            {"other_names": _("At most %(n)d other names are kept.") % {"n": NAMES_PER_FAULT}}
        )
    for name in ("name", "zone", "level", "virtue", "clause"):
        setattr(fault, name, getattr(named, name))
    if named.figure is not None:
        fault.figure = named.figure
    fault.other_names = list(dict.fromkeys(named.other_names))
    fault.full_clean(exclude=["breed", "clause"], validate_unique=False, validate_constraints=False)
    fault.save()
    return fault
