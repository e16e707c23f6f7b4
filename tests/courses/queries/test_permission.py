"""What an owner's word allows, and that the rule for one exhibit and the filter for many agree."""

import datetime
from itertools import product

import pytest
from django.utils import timezone

from courses.models import Exhibit, PicturePermission
from courses.queries.permission import (
    covered,
    ending_soon,
    may_be_shown,
    may_see,
    permission_state,
    shown,
    visible_to,
    without_permission,
)
from courses.rules import ALLOWING, PermissionState, Use, nearest, state_of
from tests.makers import make_exhibit

TODAY = datetime.date(2026, 11, 25)
DAY = datetime.timedelta(days=1)


def word(**fields) -> PicturePermission:
    given = {"starts_on": TODAY - 30 * DAY, "ends_on": None, "teaching": True, "withdrawn_at": None}
    return PicturePermission(**(given | fields))


@pytest.mark.parametrize(
    ("fields", "state"),
    [
        ({}, PermissionState.HOLDS),
        ({"starts_on": TODAY}, PermissionState.HOLDS),
        ({"starts_on": TODAY + DAY}, PermissionState.NOT_YET),
        ({"ends_on": TODAY + DAY}, PermissionState.HOLDS),
        ({"ends_on": TODAY}, PermissionState.ENDED),
        ({"teaching": False, "print": True}, PermissionState.OTHER_USE),
        ({"withdrawn_at": timezone.now()}, PermissionState.WITHDRAWN),
        ({"withdrawn_at": timezone.now(), "ends_on": TODAY}, PermissionState.WITHDRAWN),
    ],
)
def test_what_one_permission_allows(fields, state):
    assert state_of(word(**fields), Use.TEACHING, TODAY) == state


def test_of_several_the_nearest_to_holding_is_told():
    assert nearest({PermissionState.ENDED, PermissionState.HOLDS}) == PermissionState.HOLDS
    assert nearest({PermissionState.WITHDRAWN, PermissionState.ENDED}) == PermissionState.ENDED
    assert nearest(set()) == PermissionState.NONE


def make_every_case(cast) -> None:
    """An exhibit of each kind, state and club for every pair of permissions, or one, or none."""
    words = [
        None,
        {},
        {"ends_on": TODAY},
        {"ends_on": TODAY + DAY},
        {"starts_on": TODAY + DAY},
        {"teaching": False, "examination": True},
        {"withdrawn_at": timezone.now()},
    ]
    cases = product(("photograph", "drawn"), ("draft", "published", "withdrawn"), words, words)
    for number, (kind, state, first, second) in enumerate(cases, start=1):
        exhibit = make_exhibit(cast.club, cast.educator, kind=kind, state=state, number=number)
        for fields in (each for each in (first, second) if each is not None):
            made = word(**fields)
            made.exhibit, made.recorded_by, made.how = exhibit, cast.educator.person, "form"
            made.save()
    make_exhibit(cast.other_club, cast.stranger)


def test_the_rules_for_one_and_the_filters_for_many_agree(cast):
    make_every_case(cast)
    everything = list(Exhibit.objects.prefetch_related("permissions"))
    for use in Use:
        kept = set(Exhibit.objects.filter(covered(use, TODAY)).values_list("pk", flat=True))
        assert kept == {each.pk for each in everything if permission_state(each, use, TODAY) in ALLOWING}
        assert 0 < len(kept) < len(everything)
    kept = set(Exhibit.objects.filter(shown(TODAY)).values_list("pk", flat=True))
    assert kept == {each.pk for each in everything if may_be_shown(each, TODAY)}
    for who in ("educator", "mentor", "trainee", "secretary", "stranger"):
        membership = getattr(cast, who)
        kept = set(Exhibit.objects.filter(visible_to(membership, TODAY)).values_list("pk", flat=True))
        assert kept == {each.pk for each in everything if may_see(membership, each, TODAY)}


def test_who_sees_what(cast):
    draft = make_exhibit(cast.club, cast.educator, state="draft")
    ready = make_exhibit(cast.club, cast.educator)
    everyone = {who: getattr(cast, who) for who in ("educator", "secretary", "mentor", "trainee", "stranger")}
    assert [who for who, each in everyone.items() if may_see(each, draft, TODAY)] == ["educator", "secretary"]
    assert [who for who, each in everyone.items() if may_see(each, ready, TODAY)] == list(everyone)[:4]
    cast.educator.left_at = timezone.now()
    assert not may_see(cast.educator, ready, TODAY)
    assert not Exhibit.objects.filter(visible_to(cast.educator, TODAY)).exists()


def test_permissions_that_end_within_a_fortnight(cast):
    for number, ends in enumerate((None, TODAY + 14 * DAY, TODAY + 15 * DAY, TODAY), start=1):
        exhibit = make_exhibit(cast.club, cast.educator, kind="photograph", number=number)
        made = word(ends_on=ends, exhibit=exhibit, recorded_by=cast.educator.person, how="form")
        made.save()
    assert [each.number for each in ending_soon(cast.club, TODAY)] == [2]
    assert [each.number for each in without_permission(cast.club, TODAY)] == [4]
