"""A drawn figure is kept as an exhibit, with what the drawing itself knows: points, outline, regions."""

from __future__ import annotations

from collections.abc import Mapping

from django.db import transaction

from courses.actions.exhibit import keep_exhibit, store_renditions
from courses.actions.files import all_or_none
from courses.drawn import Prepared, prepare_drawing
from courses.figure import Drawing, Settings
from courses.models import Breed, Exhibit, Fault, Placement, ShownFault
from courses.models.choices import AgeClass, Camera, Sex, Verdict
from shared.accounts.models import Club, Person


def keep_drawing(
    *,
    club: Club,
    breed: Breed,
    drawing: Drawing,
    settings: Settings,
    faults: Mapping[str, float],
    made_by: Person,
    verdict: str | None = None,
    sex: str = Sex.UNSAID,
    age_class: str = AgeClass.ADULT,
    caption: str = "",
    description: str = "",
) -> Exhibit:
    """Make a drawn exhibit of `drawing`, which shows `settings`.

    `faults` maps keys of `PRESETS` to their degree in it. Each that the breed's list knows (by
    `Fault.figure`) becomes a shown fault of its usual clause and severity, with the region in which the
    picture differs for it. Without a `verdict` faults make it incorrect, none correct.
    """
    return keep_prepared(
        club=club,
        breed=breed,
        prepared=prepare_drawing(drawing, settings, faults),
        made_by=made_by,
        verdict=verdict,
        sex=sex,
        age_class=age_class,
        caption=caption,
        description=description,
    )


def keep_prepared(
    *,
    club: Club,
    breed: Breed,
    prepared: Prepared,
    made_by: Person,
    verdict: str | None = None,
    sex: str = Sex.UNSAID,
    age_class: str = AgeClass.ADULT,
    caption: str = "",
    description: str = "",
) -> Exhibit:
    """The same for a drawing of which everything that takes time was made before."""
    exhibit = Exhibit(
        club=club,
        breed=breed,
        kind=Exhibit.Kind.DRAWN,
        view=prepared.view,
        sex=sex,
        age_class=age_class,
        caption=caption,
        description=description,
        verdict=verdict or (Verdict.INCORRECT if prepared.faults else Verdict.CORRECT),
        width=prepared.width,
        height=prepared.height,
        fingerprint=prepared.fingerprint,
        drawing=dict(prepared.particulars),
        camera=Camera.EXACT,
        made_by=made_by,
    )
    with all_or_none() as keep:
        rows = store_renditions(club, prepared.renditions, keep)
        with transaction.atomic():
            keep_exhibit(exhibit, rows)
            Placement.objects.create(exhibit=exhibit, points=dict(prepared.points), exact=True)
            _propose_faults(exhibit, prepared)
    return exhibit


def _propose_faults(exhibit: Exhibit, prepared: Prepared) -> None:
    faults = Fault.objects.filter(breed=exhibit.breed, figure__in=prepared.faults)
    known = {fault.figure: fault for fault in faults}
    ShownFault.objects.bulk_create(
        ShownFault(
            exhibit=exhibit,
            fault=known[key],
            clause_id=known[key].clause_id,
            level=known[key].level,
            regions=prepared.regions[key],
        )
        for key in prepared.faults
        if key in known
    )
