"""How long things are kept: read by all, set by the secretary, with what the next run will let go."""

import datetime

from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from assessments.models import KeepingRules, Sitting
from shared.accounts.actions.erasure import erase_member
from tests import makers

CLUB = "/clubs/skerry-drover"
DAY = datetime.timedelta(days=1)


def sit_long_ago(cast, edition, trainees):
    quiz = makers.make_open_quiz(edition, cast.educator)
    long_ago = timezone.now() - 400 * DAY
    makers.make_sittings(quiz, [[makers.said()] for _ in trainees], trainees=trainees, finished_at=long_ago)


def lay_down(cast, **periods):
    day = timezone.localdate() - 500 * DAY
    KeepingRules.objects.create(club=cast.club, made_by=cast.secretary, effective_from=day, **periods)


def test_every_member_reads_what_is_in_force_and_to_come(cast):
    lay_down(cast, answers=24)
    day = timezone.localdate() + 40 * DAY
    KeepingRules.objects.create(club=cast.club, made_by=cast.secretary, effective_from=day, answers=12)
    page = cast.client("trainee").get(f"{CLUB}/keeping/").content.decode()
    assert "24 months" in page
    assert "12 months" in page
    assert "At the next run" not in page
    assert (
        "Your answers are kept for 24 months"
        in cast.client("trainee").get(f"{CLUB}/record/").content.decode()
    )


def test_the_secretary_sees_what_the_next_run_will_let_go(cast, edition):
    lay_down(cast, answers=6)
    sit_long_ago(cast, edition, [cast.trainee, makers.make_trainee(cast.club, "Osla Mouat")])
    page = cast.client("secretary").get(f"{CLUB}/keeping/").content.decode()
    assert "2 of 2 people" in page
    assert Sitting.objects.filter(trainee=cast.trainee).exists()


def test_it_says_that_somebody_was_erased_and_never_who(cast):
    erase_member(membership=cast.trainee, by=cast.secretary)
    page = cast.client("secretary").get(f"{CLUB}/keeping/").content.decode()
    assert "Halcro" not in page
    assert "Bruce Isbister</span></li>" in page


def test_a_shorter_period_too_soon_is_said_beside_the_day_and_nothing_is_lost(cast, edition):
    sit_long_ago(cast, edition, [cast.trainee])
    sent = {"effective_from": timezone.localdate().isoformat(), "answers": "12", "papers": "", "left": "7"}
    response = cast.client("secretary").post(f"{CLUB}/keeping/set/", sent)
    assert response.status_code == 422
    assert "What is kept shorter is told 30 days before" in response.content.decode()
    assert 'value="7"' in response.content.decode()
    sent["effective_from"] = (timezone.localdate() + 30 * DAY).isoformat()
    assert cast.client("secretary").post(f"{CLUB}/keeping/set/", sent).status_code == 302
    kept = KeepingRules.objects.get()
    assert (kept.answers, kept.papers, kept.left, kept.made_by) == (12, None, 7, cast.secretary)
    assert "the club keeps things shorter" in cast.client("trainee").get(f"{CLUB}/record/").content.decode()


def test_less_than_a_month_is_refused(cast):
    sent = {"effective_from": timezone.localdate().isoformat(), "answers": "0", "papers": "", "left": ""}
    assert cast.client("secretary").post(f"{CLUB}/keeping/set/", sent).status_code == 422
    assert not KeepingRules.objects.exists()


def test_only_the_secretary_sets_it(cast):
    for who in ("educator", "mentor", "trainee"):
        assert cast.client(who).post(f"{CLUB}/keeping/set/", {}).status_code == 403


def test_the_page_costs_the_same_however_much_is_due(cast, edition):
    lay_down(cast, answers=6)
    client, counted = cast.client("secretary"), []
    for number in range(2):
        people = [
            makers.make_trainee(cast.club, f"Trainee {number}.{each}") for each in range(1 + 2 * number)
        ]
        sit_long_ago(cast, edition, people)
        with CaptureQueriesContext(connection) as queries:
            client.get(f"{CLUB}/keeping/")
        counted.append(len(queries))
    assert counted[0] == counted[1]
    assert counted[0] < 14
