"""Who is let in, and where the signed-out are sent."""

import pytest
from django.utils import timezone

from shared.accounts.models import Club, Membership
from shared.accounts.permissions import ROLES, Ability, may
from shared.accounts.roles import Role

HERE = "/clubs/skerry-drover/members/"


def test_every_ability_has_its_roles():
    assert set(ROLES) == set(Ability)
    assert all(ROLES.values())


def test_nobody_and_whoever_left_may_do_nothing(cast):
    assert not any(may(None, ability) for ability in Ability)
    gone = Membership(trainee=True, educator=True, mentor=True, secretary=True, left_at=timezone.now())
    assert not any(may(gone, ability) for ability in Ability)


@pytest.mark.parametrize("role", Role)
def test_a_role_carries_the_abilities_of_the_table(role):
    member = Membership(**{role.value: True})
    assert {ability for ability in Ability if may(member, ability)} == {
        ability for ability in Ability if role in ROLES[ability]
    }


@pytest.mark.parametrize(
    ("method", "headers", "back"),
    [
        ("get", {}, f"{HERE}?page=2"),
        ("post", {"Referer": f"http://testserver{HERE}?role=mentor#list"}, f"{HERE}?role=mentor"),
        ("post", {"Referer": "http://elsewhere.example/"}, "/"),
        ("post", {}, "/"),
        ("get", {"HX-Request": "true", "HX-Current-URL": f"http://testserver{HERE}"}, HERE),
    ],
)
def test_after_signing_in_one_is_back_on_the_page_where_one_stood(cast, method, headers, back):
    response = getattr(cast.client("nobody"), method)(f"{HERE}?page=2", headers=headers)
    url = response.headers.get("HX-Redirect") or response.url
    assert url.partition("?next=")[2].replace("%3F", "?").replace("%3D", "=") == back


def test_a_club_page_runs_in_the_club_s_time_zone_and_is_kept_by_no_shared_cache(cast):
    Club.objects.filter(pk=cast.club.pk).update(time_zone="Pacific/Kiritimati")
    response = cast.client("trainee").get("/clubs/skerry-drover/")
    there = timezone.localtime(timezone.now(), timezone.zoneinfo.ZoneInfo("Pacific/Kiritimati"))
    assert f"{there:%A} {there.day} {there:%B}" in response.content.decode()
    assert response.headers["Cache-Control"] == "private, no-cache"
    assert {"Cookie", "HX-Request"} <= {word.strip() for word in response.headers["Vary"].split(",")}
