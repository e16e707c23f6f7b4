"""Pictures are served to those who may see them today, and to nobody a moment longer."""

import datetime

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.core.files.storage import default_storage
from django.core.signing import Signer
from django.test import Client
from django.utils import timezone

from courses.models import Exhibit
from courses.queries.exhibit import alike_ones
from tests.courses.signed_storage import HOUSE
from tests.makers import make_photograph, make_published, permit

HERE = "/clubs/skerry-drover/pictures/"


def status(client: Client, path: str, **headers: str) -> int:
    answer = client.get(path, headers=headers)
    if answer.streaming:
        answer.getvalue()  # read to its end, the file is closed
    return answer.status_code


def address(exhibit: Exhibit, kind: str = "jpeg") -> str:
    return HERE + exhibit.renditions.get(format=kind).name


def test_a_published_picture_is_served_to_every_member_and_to_no_one_else(cast):
    exhibit = make_published(cast.club, cast.educator)
    for who in ("trainee", "mentor", "secretary", "educator"):
        answer = cast.client(who).get(address(exhibit, "avif"))
        sent = answer.getvalue()
        with default_storage.open(exhibit.renditions.get(format="avif").file) as kept:
            assert sent == kept.read()
        assert answer["Content-Type"] == "image/avif"
        assert answer["Cache-Control"] == "private, no-cache"
    assert status(cast.client("stranger"), address(exhibit)) == 404
    assert cast.client("nobody").get(address(exhibit)).url.startswith("/account/login/")


def test_a_draft_is_seen_by_educators_and_secretaries_only(cast):
    exhibit = make_photograph(cast.club, cast.educator)
    seen = {
        who: status(cast.client(who), address(exhibit))
        for who in ("trainee", "mentor", "secretary", "educator")
    }
    assert seen == {"trainee": 404, "mentor": 404, "secretary": 200, "educator": 200}


def test_an_unchanged_picture_is_not_sent_again(cast):
    exhibit = make_published(cast.club, cast.educator)
    client = cast.client("trainee")
    first = client.get(address(exhibit))
    etag, _sent = first["ETag"], first.getvalue()
    again = client.get(address(exhibit), headers={"If-None-Match": etag})
    assert (again.status_code, again.content) == (304, b"")
    assert again["ETag"] == etag
    assert status(client, address(exhibit), **{"If-None-Match": '"other"'}) == 200


def test_a_withdrawn_picture_is_refused_even_to_who_has_it(cast):
    exhibit = make_published(cast.club, cast.educator)
    client = cast.client("trainee")
    etag = f'"{exhibit.renditions.get(format="jpeg").name}"'
    assert status(client, address(exhibit), **{"If-None-Match": etag}) == 304
    Exhibit.objects.update(state="withdrawn")
    assert status(client, address(exhibit), **{"If-None-Match": etag}) == 404


def test_a_picture_is_gone_on_the_day_its_permission_ends(cast):
    exhibit = make_published(cast.club, cast.educator)
    exhibit.permissions.all().delete()
    today = timezone.localdate()
    permit(exhibit, cast.educator, ends_on=today + datetime.timedelta(days=1))
    client = cast.client("trainee")
    assert status(client, address(exhibit)) == 200
    exhibit.permissions.update(ends_on=today)
    assert status(client, address(exhibit)) == 404


def test_another_clubs_picture_is_not_found_here(cast):
    exhibit = make_published(cast.other_club, cast.stranger)
    assert status(cast.client("educator"), address(exhibit)) == 404


def test_the_same_pixels_twice_are_seen_where_one_of_them_may_be(cast):
    first = make_published(cast.club, cast.educator)
    make_photograph(cast.club, cast.educator)
    assert alike_ones(cast.club, first.fingerprint) == [1, 2]
    assert status(cast.client("trainee"), address(first)) == 200
    Exhibit.objects.filter(pk=first.pk).update(state="withdrawn")
    assert status(cast.client("trainee"), address(first)) == 404


def test_behind_a_server_that_sends_files_itself_only_the_path_is_answered(cast, settings):
    settings.PICTURES_ACCEL_PREFIX = "/kept"
    exhibit = make_published(cast.club, cast.educator)
    answer = cast.client("trainee").get(address(exhibit))
    assert answer["X-Accel-Redirect"] == "/kept/" + exhibit.renditions.get(format="jpeg").file
    assert answer.content == b""


def linked(settings, storage: str) -> None:
    settings.PICTURES_LINKED_FROM = HOUSE
    backend = {"BACKEND": f"tests.courses.signed_storage.{storage}"}
    settings.STORAGES = settings.STORAGES | {"default": backend}


def test_object_storage_is_reached_by_a_link_of_five_minutes_asked_for_each_time(cast, settings):
    linked(settings, "SignedStorage")
    exhibit = make_published(cast.club, cast.educator)
    client, path = cast.client("trainee"), address(exhibit)
    answer = client.get(path, headers={"If-None-Match": "*"})
    file = exhibit.renditions.get(format="jpeg").file
    assert answer.status_code == 302
    assert answer.url == f"{HOUSE}/{file}?life=300&signature={Signer().signature(f'{file}:300')}"
    assert answer["Cache-Control"] == "private, no-store"
    assert "ETag" not in answer
    Exhibit.objects.update(state="withdrawn")
    assert client.get(path).status_code == 404


def test_a_storage_that_keeps_its_own_time_is_taken_at_its_word(cast, settings):
    linked(settings, "SilentStorage")
    answer = cast.client("trainee").get(address(make_published(cast.club, cast.educator)))
    assert answer.url.startswith(f"{HOUSE}/pictures/")
    assert "signature=" in answer.url


@pytest.mark.parametrize("house", [HOUSE, "https://other.example"])
def test_a_link_that_is_not_signed_or_leads_elsewhere_is_never_given_out(cast, settings, house):
    linked(settings, "OpenStorage" if house == HOUSE else "SignedStorage")
    settings.PICTURES_LINKED_FROM = house
    path = address(make_published(cast.club, cast.educator))
    with pytest.raises(ImproperlyConfigured, match="no signed link"):
        cast.client("trainee").get(path)


def test_originals_have_no_address(cast):
    exhibit = make_published(cast.club, cast.educator)
    for path in (exhibit.original.name, exhibit.original.name.rsplit("/", 1)[-1]):
        assert status(cast.client("educator"), HERE + path) == 404
