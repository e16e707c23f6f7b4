"""Exhibits with what a page needs to show them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from django.db.models import Prefetch, Q, QuerySet

from courses.models import Exhibit, PicturePermission, Rendition
from courses.queries.permission import covered, ending_soon, permission_state
from courses.rules import ALLOWING, Use
from shared.accounts.models import Club
from shared.pictures.likeness import alike

# Drawings that differ in one joint come out alike by their fingerprints: only photographs are compared.
_PHOTOGRAPHS = Q(kind=Exhibit.Kind.PHOTOGRAPH) & ~Q(fingerprint="")


def with_pictures(exhibits: QuerySet[Exhibit]) -> QuerySet[Exhibit]:
    """Each exhibit with its renditions and its owner's words: two queries, however many exhibits."""
    return exhibits.prefetch_related(
        Prefetch("renditions", Rendition.objects.order_by("format", "width")),
        Prefetch("permissions", PicturePermission.objects.order_by("-recorded_at")),
    )


def exhibits_of(club: Club, wanted: Mapping[str, object], on: date) -> QuerySet[Exhibit]:
    """The club's exhibits, newest first. `wanted` may hold view, verdict, state, breed, uncovered, ending."""
    found = Exhibit.objects.filter(club=club)
    for field in ("view", "verdict", "state", "breed"):
        if wanted.get(field):
            found = found.filter(**{field: wanted[field]})
    if wanted.get("uncovered"):
        found = found.exclude(covered(Use.TEACHING, on))
    if wanted.get("ending"):
        found = found.filter(pk__in=ending_soon(club, on))
    return with_pictures(found)


def alike_ones(club: Club, fingerprint: str) -> list[int]:
    """Numbers of the club's exhibits that show the same photograph."""
    rows = Exhibit.objects.filter(_PHOTOGRAPHS, club=club).order_by("number")
    return [n for n, other in rows.values_list("number", "fingerprint") if alike(fingerprint, other)]


def marked_with_permission(exhibits: Iterable[Exhibit], on: date) -> list[Exhibit]:
    """The same exhibits, each with what the owner's word allows in teaching as `permission`."""
    marked = list(exhibits)
    for exhibit in marked:
        exhibit.permission = permission_state(exhibit, Use.TEACHING, on)
        exhibit.covered = exhibit.permission in ALLOWING
    return marked
