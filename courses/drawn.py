"""What a drawing brings along when it becomes an exhibit: sizes and formats, points, outline, regions.

All that takes time, without Django, so that it can be done before any transaction or in another process.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from shapely import make_valid, unary_union
from shapely.geometry import Polygon

from courses.figure import PARAMETERS, PRESETS, Drawing, ImpossibleFigure, Settings, changed_regions, ideal
from shared.pictures.likeness import fingerprint
from shared.pictures.renditions import Rendition, renditions

# A kept outline leaves the drawn one by at most so much, in picture units: half a pixel of a phone's width.
OUTLINE_TOLERANCE = 0.001

Outline = list[list[float]]


@dataclass(frozen=True)
class Prepared:
    """A drawing ready to be kept. Places are in picture units; `regions` belong to the faults by key."""

    view: str
    width: int
    height: int
    fingerprint: str
    renditions: Sequence[Rendition]
    points: Mapping[str, list[float]]
    particulars: Mapping[str, Any]
    faults: Mapping[str, float]
    regions: Mapping[str, list[Outline]]


def prepare_drawing(
    drawing: Drawing,
    settings: Settings,
    faults: Mapping[str, float],
    made: Sequence[Rendition] | None = None,
) -> Prepared:
    """`faults` maps keys of `PRESETS` to their degree in `settings`. `made` are sizes that exist already."""
    return Prepared(
        view=drawing.view,
        width=drawing.image.width,
        height=drawing.image.height,
        fingerprint=fingerprint(drawing.image),
        renditions=list(renditions(drawing.image)) if made is None else made,
        points={name: list(place) for name, place in drawing.points.items()},
        particulars={"settings": settings.to_dict(), "faults": dict(faults), "outline": _outline(drawing)},
        faults=faults,
        regions={key: regions_of(drawing.view, settings, key, degree) for key, degree in faults.items()},
    )


def regions_of(view: str, settings: Settings, key: str, degree: float) -> list[Outline]:
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


def _outline(drawing: Drawing) -> list[Outline]:
    """The animal's contour as polygons, without the lines within it."""
    whole = unary_union([make_valid(Polygon(shape)) for shape in drawing.outline])
    whole = whole.simplify(OUTLINE_TOLERANCE)
    parts = [part for part in getattr(whole, "geoms", [whole]) if isinstance(part, Polygon)]
    return [[[round(x, 4), round(y, 4)] for x, y in part.exterior.coords[:-1]] for part in parts]
