"""Educators and secretaries hear once, and in time, of each permission that ends."""

import datetime

import pytest
from django.core import mail
from django.core.mail.backends.locmem import EmailBackend
from django.core.management import CommandError, call_command
from django.utils import timezone

from courses.actions.reminders import remind_of_endings
from courses.models import Exhibit, PicturePermission
from shared.web.daily import JOBS, every_day
from tests.makers import make_edition, make_member, make_plate, make_published, permit

DAY = datetime.timedelta(days=1)


@pytest.fixture
def today():
    return timezone.localdate()


def ending(cast, day, **fields):
    """A published photograph whose only permission ends on the day."""
    exhibit = make_published(cast.club, cast.educator, seed=fields.pop("seed", 0), **fields)
    exhibit.permissions.update(ends_on=day)
    return exhibit


def test_those_who_keep_permissions_are_told_once_each_by_a_mail_of_their_own(cast, today):
    exhibit = ending(cast, today + 5 * DAY)
    edition = make_edition(cast.club)
    make_plate(edition, cast.educator, number=7, incorrect=[exhibit])
    assert remind_of_endings(club=cast.club, on=today) == 1
    assert [message.to for message in mail.outbox] == [
        ["ishbel.rendall@club.example"],
        ["bruce.isbister@club.example"],
    ]
    text = mail.outbox[0].body
    assert mail.outbox[0].subject == "Skerry Drover Club: a permission ends soon"
    assert "Exhibit 1, given by Erlend Scollay: ends on " in text
    assert "It stands on plate 7." in text
    assert "http://127.0.0.1:8000/clubs/skerry-drover/exhibits/1/" in text
    assert remind_of_endings(club=cast.club, on=today + DAY) == 0
    assert len(mail.outbox) == 2


def test_only_what_takes_a_picture_with_it_is_told(cast, today):
    ending(cast, today + 15 * DAY, seed=1)
    ending(cast, today, seed=2)
    Exhibit.objects.filter(pk=ending(cast, today + 5 * DAY, seed=3).pk).update(state="draft")
    followed = ending(cast, today + 5 * DAY, seed=4)
    permit(followed, cast.educator, starts_on=today + 2 * DAY)
    assert remind_of_endings(club=cast.club, on=today) == 0
    ending(cast, today + 14 * DAY, seed=5)
    assert remind_of_endings(club=cast.club, on=today) == 1


def test_a_new_permission_is_told_of_in_its_turn(cast, today):
    exhibit = ending(cast, today + 5 * DAY)
    remind_of_endings(club=cast.club, on=today)
    permit(exhibit, cast.educator, ends_on=today + 100 * DAY)
    assert remind_of_endings(club=cast.club, on=today + 90 * DAY) == 1


def test_other_clubs_and_those_who_left_hear_nothing(cast, today):
    ending(cast, today + 5 * DAY)
    gone = make_member(cast.club, "Sunniva Linklater", secretary=True)
    gone.left_at = timezone.now()
    gone.save()
    assert remind_of_endings(club=cast.other_club, on=today) == 0
    remind_of_endings(club=cast.club, on=today)
    assert "sunniva.linklater@club.example" not in {to for message in mail.outbox for to in message.to}


def test_a_club_with_nobody_to_tell_tells_nobody_yet(cast, today):
    ending(cast, today + 5 * DAY)
    cast.club.memberships.update(educator=False, secretary=False, mentor=True)
    assert remind_of_endings(club=cast.club, on=today) == 0
    assert not PicturePermission.objects.exclude(reminded_at=None).exists()


class Refusing(EmailBackend):
    """A mail server that takes nothing today."""

    def send_messages(self, messages):
        raise ConnectionRefusedError


def test_what_could_not_be_mailed_is_tried_again(cast, today, settings):
    ending(cast, today + 5 * DAY)
    takes = settings.EMAIL_BACKEND
    settings.EMAIL_BACKEND = f"{__name__}.Refusing"
    with pytest.raises(ConnectionRefusedError):
        remind_of_endings(club=cast.club, on=today)
    settings.EMAIL_BACKEND = takes
    assert remind_of_endings(club=cast.club, on=today) == 1


def test_the_daily_command_does_it_and_does_nothing_twice(cast, today, capsys):
    ending(cast, today + 5 * DAY)
    call_command("daily")
    assert "Permissions that end soon, newly told of: 1." in capsys.readouterr().out
    call_command("daily")
    assert "Permissions that end soon, newly told of: 0." in capsys.readouterr().out
    assert len(mail.outbox) == 2


def test_a_job_that_fails_stops_no_other_and_is_named(cast, today, monkeypatch, capsys):
    ending(cast, today + 5 * DAY)
    before = dict(JOBS)

    def broken() -> str:
        raise ZeroDivisionError

    try:
        JOBS.clear()
        every_day(broken)
        JOBS.update(before)
        with pytest.raises(CommandError, match="broken"):
            call_command("daily")
    finally:
        JOBS.clear()
        JOBS.update(before)
    assert "newly told of: 1." in capsys.readouterr().out
