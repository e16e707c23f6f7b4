"""Who has placed points on an exhibit, and how far they are apart."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from math import hypot

from django.db.models import Count, Prefetch, Q, QuerySet

from courses.measures.measures import PLACEMENT_SD
from courses.measures.points import POINTS, AnatomicalPoint
from courses.measures.stance import Stance
from courses.models import Exhibit, Placement
from courses.queries.exhibit import with_pictures
from courses.queries.measures import finished, points_in, pooled_on
from courses.queries.permission import visible_to
from shared.accounts.models import Membership, Person

WANTED = 2  # people, so that there is a spread


@dataclass(frozen=True)
class PointSpread:
    """One point: who placed it where, their mean, and how far they are apart in per cent of the height.

    `apart` is the standard deviation along one axis, both axes pooled; None from one person alone.
    """

    point: AnatomicalPoint
    people: int
    mean: tuple[float, float] | None
    places: list[tuple[float, float]]
    apart: float | None

    @property
    def wide(self) -> bool:
        """More than twice as far as is usual."""
        return self.apart is not None and self.apart > 200 * PLACEMENT_SD


def with_points(exhibits: QuerySet[Exhibit]) -> QuerySet[Exhibit]:
    """Each exhibit with its picture and its placements: four queries, however many exhibits."""
    placements = Placement.objects.select_related("placed_by").order_by("pk")
    return with_pictures(exhibits).prefetch_related(Prefetch("placements", placements))


def measured_by(membership: Membership, on: date) -> QuerySet[Exhibit]:
    """Exhibits on which a member may place points and read measures."""
    return with_points(Exhibit.objects.filter(visible_to(membership, on)))


def placement_of(exhibit: Exhibit, person: Person) -> Placement | None:
    """This person's own, from the exhibit's prefetched placements."""
    return next((each for each in exhibit.placements.all() if each.placed_by_id == person.pk), None)


def spread_on(exhibit: Exhibit) -> list[PointSpread]:
    """Every point of the view in order, with the finished placements of it."""
    counted = [points_in(each, exhibit.view) for each in finished(exhibit.placements.all())]
    means = pooled_on(exhibit)
    unit = _height({name: (at.x, at.y) for name, at in means.items()}, exhibit.view)
    return [
        PointSpread(
            point,
            means[point.name].people if point.name in means else 0,
            (means[point.name].x, means[point.name].y) if point.name in means else None,
            [(each[point.name][0], each[point.name][1]) for each in counted if point.name in each],
            _apart(means.get(point.name), unit),
        )
        for point in POINTS.get(exhibit.view, ())
    ]


def wanting_points(membership: Membership, on: date) -> QuerySet[Exhibit]:
    """Photographs that one other person has placed points on, and this one has not finished."""
    done = Q(placements__finished_at__isnull=False)
    return (
        Exhibit.objects.filter(visible_to(membership, on), kind=Exhibit.Kind.PHOTOGRAPH, view__in=POINTS)
        .annotate(people=Count("placements", filter=done, distinct=True))
        .filter(people__gt=0, people__lt=WANTED)
        .exclude(
            placements__in=Placement.objects.filter(placed_by=membership.person_id, finished_at__isnull=False)
        )
    )


def _height(points: dict[str, tuple[float, float]], view: str) -> float:
    return Stance(points, view).height_or_extent() if points else 0.0


def _apart(at: object, unit: float) -> float | None:
    if at is None or at.sd_x is None or not unit:
        return None
    return 100 * hypot(at.sd_x, at.sd_y) / 2**0.5 / unit
