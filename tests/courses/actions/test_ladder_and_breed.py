"""Ladders from a day on; breeds and their readings."""

import datetime

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from courses.actions.breed import add_breed, name_breed, set_readings
from courses.actions.ladder import set_ladder, withdraw_ladder
from courses.models import Breed
from courses.queries.severity import ladder_of
from courses.refusals import Refused

pytestmark = pytest.mark.django_db
FIVE = ["Slight", "Minor", "Moderate", "Serious", "Disqualifying"]


def new_ladder(club, days=0, labels=FIVE, weights=(1, 2, 3, 5, 8)):
    return set_ladder(
        club=club,
        labels=labels,
        weights=weights,
        disqualifying=True,
        effective_from=timezone.localdate() + datetime.timedelta(days=days),
    )


def test_a_ladder_holds_from_its_day(cast):
    new_ladder(cast.club, days=3)
    assert ladder_of(cast.club).labels[0] == "Minor"
    new_ladder(cast.club)
    assert ladder_of(cast.club).labels[0] == "Slight"


def test_a_ladder_does_not_begin_in_the_past_nor_lose_levels(cast):
    with pytest.raises(ValidationError, match="today or later"):
        new_ladder(cast.club, days=-1)
    with pytest.raises(ValidationError, match="at least 4 levels"):
        new_ladder(cast.club, labels=["Fault", "Grave"], weights=[1, 2])
    new_ladder(cast.club, days=9)
    with pytest.raises(ValidationError, match="at least 5 levels"):
        new_ladder(cast.club, labels=FIVE[1:], weights=[1, 2, 3, 4])
    with pytest.raises(ValidationError, match="weighs more"):
        new_ladder(cast.club, weights=[1, 2, 2, 3, 4])


def test_a_ladder_to_come_can_be_taken_back(cast):
    begun, to_come = new_ladder(cast.club), new_ladder(cast.club, days=1)
    withdraw_ladder(scale=to_come)
    with pytest.raises(Refused, match="has begun"):
        withdraw_ladder(scale=begun)
    assert list(cast.club.severity_scales.all()) == [begun]


def test_breeds_get_addresses_of_their_own(cast):
    names = ["Skerry Drover", "Skerry drover!", "New", "犬"]
    assert [add_breed(club=cast.club, name=name).slug for name in names] == [
        "skerry-drover",
        "skerry-drover-2",
        "new-2",
        "breed",
    ]
    assert name_breed(breed=Breed.objects.get(slug="breed"), name="Holm Spaniel").slug == "breed"


def test_only_readings_of_the_clubs_own_are_kept(cast):
    breed = add_breed(club=cast.club, name="Skerry Drover")
    own = {"undesirable": "moderate", "frowned upon": None}
    set_readings(breed=breed, readings={"serious fault": "serious"} | own)
    assert Breed.objects.get().readings == own
    with pytest.raises(Refused, match="At most 100"):
        set_readings(breed=breed, readings={f"word {n}": "minor" for n in range(101)})
