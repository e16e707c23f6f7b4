"""A drawn figure is kept as an exhibit, with what the drawing itself knows: points, outline, regions."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction
from shapely import make_valid, unary_union
from shapely.geometry import Polygon

from courses.actions.exhibit import keep_exhibit, make_renditions
from courses.actions.files import all_or_none
from courses.figure import PARAMETERS, PRESETS, Drawing, ImpossibleFigure, Settings, changed_regions, ideal
from courses.models import Breed, Exhibit, Fault, Placement, ShownFault
from courses.models.choices import AgeClass, Camera, Sex, Verdict
from shared.accounts.models import Club, Person
from shared.pictures.likeness import fingerprint

# A kept outline leaves the drawn one by at most so much, in picture units: half a pixel of a phone's width.
OUTLINE_TOLERANCE = 0.001


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
    exhibit = Exhibit(
        club=club,
        breed=breed,
        kind=Exhibit.Kind.DRAWN,
        view=drawing.view,
        sex=sex,
        age_class=age_class,
        caption=caption,
        description=description,
        verdict=verdict or (Verdict.INCORRECT if faults else Verdict.CORRECT),
        width=drawing.image.width,
        height=drawing.image.height,
        fingerprint=fingerprint(drawing.image),
        drawing=_particulars(drawing, settings, faults),
        camera=Camera.EXACT,
        made_by=made_by,
    )
    with all_or_none() as keep:
        rows = make_renditions(club, drawing.image, keep)
        with transaction.atomic():
            keep_exhibit(exhibit, rows)
            points = {name: list(place) for name, place in drawing.points.items()}
            Placement.objects.create(exhibit=exhibit, points=points, exact=True)
            _propose_faults(exhibit, settings, faults)
    return exhibit


def _particulars(drawing: Drawing, settings: Settings, faults: Mapping[str, float]) -> dict[str, Any]:
    return {"settings": settings.to_dict(), "faults": dict(faults), "outline": _outline(drawing)}


def _outline(drawing: Drawing) -> list[list[list[float]]]:
    """The animal's contour as polygons, without the lines within it."""
    whole = unary_union([make_valid(Polygon(shape)) for shape in drawing.outline])
    whole = whole.simplify(OUTLINE_TOLERANCE)
    parts = [part for part in getattr(whole, "geoms", [whole]) if isinstance(part, Polygon)]
    return [[[round(x, 4), round(y, 4)] for x, y in part.exterior.coords[:-1]] for part in parts]


def _propose_faults(exhibit: Exhibit, settings: Settings, faults: Mapping[str, float]) -> None:
    known = {fault.figure: fault for fault in Fault.objects.filter(breed=exhibit.breed, figure__in=faults)}
    ShownFault.objects.bulk_create(
        ShownFault(
            exhibit=exhibit,
            fault=known[key],
            clause_id=known[key].clause_id,
            level=known[key].level,
            regions=regions_of(exhibit.view, settings, key, degree),
        )
        for key, degree in faults.items()
        if key in known
    )


def regions_of(view: str, settings: Settings, key: str, degree: float) -> list[list[list[float]]]:
    """Where a figure looks other than it would without one of its faults, in picture units."""
    try:
        sound = settings.with_(
            **{
                name: settings[name] - degree * (value - PARAMETERS[name].ideal)
                for name, value in PRESETS[key].changes.items()
            }
        )
    except ImpossibleFigure:  # what is left of the faults cannot stand alone
        sound = ideal()
    return [
        [[round(x, 4), round(y, 4)] for x, y in region]
        for region in changed_regions(view, settings, baseline=sound)
    ]
