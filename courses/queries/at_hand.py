"""Rows of one club's standard, or 404: what another club has is as if it were not there."""

from __future__ import annotations

from django.shortcuts import get_object_or_404

from courses.models import Breed, Clause, Edition, Fault, Section
from shared.accounts.models import Club


def breed_at_hand(club: Club, slug: str) -> Breed:
    return get_object_or_404(Breed.objects.select_related("club"), club=club, slug=slug)


def edition_at_hand(club: Club, pk: int) -> Edition:
    """With its breed and club."""
    return get_object_or_404(Edition.objects.select_related("breed__club"), pk=pk, breed__club=club)


def section_at_hand(club: Club, pk: int) -> Section:
    """With its edition, breed and club."""
    rows = Section.objects.select_related("edition__breed__club")
    return get_object_or_404(rows, pk=pk, edition__breed__club=club)


def clause_at_hand(club: Club, pk: int) -> Clause:
    """With its section, edition, breed and club."""
    rows = Clause.objects.select_related("section", "edition__breed__club")
    return get_object_or_404(rows, pk=pk, edition__breed__club=club)


def fault_at_hand(club: Club, pk: int) -> Fault:
    """With its breed, club and clause."""
    rows = Fault.objects.select_related("breed__club", "clause__edition")
    return get_object_or_404(rows, pk=pk, breed__club=club)
