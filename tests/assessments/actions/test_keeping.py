"""How long a club keeps things: laid down from a day on, told beforehand, and carried out."""

import datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from assessments import daily
from assessments.actions.keeping import let_go, set_keeping_rules
from assessments.actions.sittings import begin_sitting
from assessments.models import EntryResult, KeepingRules, Notice, PaperResult, SatBefore, Sitting
from assessments.queries.keeping import count_of, due_on, keeping_rules, months_before
from assessments.rules import Refused
from shared.accounts.actions.members import end_membership
from shared.accounts.models import Club, Membership
from tests import makers
from tests.assessments.erasure_scene import make_scene
from tests.assessments.test_erasure import figures
from tests.makers import papers

DAY = datetime.timedelta(days=1)
LONG_AGO = datetime.datetime(2024, 5, 20, 19, 30, tzinfo=datetime.UTC)
TODAY = datetime.date(2026, 6, 15)


def lay_down(club, by, **periods):
    """In force since long ago."""
    given = {"answers": None, "papers": None, "left": None} | periods
    return KeepingRules.objects.create(
        club=club, made_by=by, effective_from=datetime.date(2020, 1, 1), **given
    )


def sat(quiz, trainee, finished_at=LONG_AGO, **fields):
    """A sitting of one answer with a note, finished so long ago."""
    content = makers.said(makers.pin(0.35, 0.45) | {"note": "pinnotings"})
    makers.make_sittings(quiz, [[content]], trainees=[trainee], finished_at=finished_at, **fields)
    sitting = trainee.sittings.get(quiz=quiz, number=fields.get("number", 1))
    Sitting.objects.filter(pk=sitting.pk).update(begun_at=finished_at or LONG_AGO)
    return sitting


@pytest.fixture
def quiz(cast, edition):
    return makers.make_open_quiz(edition, cast.educator)


@pytest.mark.parametrize(
    ("day", "months", "before"),
    [
        ((2026, 3, 31), 1, (2026, 2, 28)),
        ((2024, 3, 31), 1, (2024, 2, 29)),
        ((2026, 1, 15), 1, (2025, 12, 15)),
        ((2026, 6, 15), 24, (2024, 6, 15)),
        ((2026, 12, 1), 12, (2025, 12, 1)),
    ],
)
def test_months_are_counted_by_the_calendar(day, months, before):
    assert months_before(datetime.date(*day), months) == datetime.date(*before)


def test_all_is_kept_until_a_club_says_otherwise(cast, quiz):
    sat(quiz, cast.trainee)
    assert not count_of(due_on(cast.club, TODAY))
    let_go(club=cast.club, today=TODAY)
    assert cast.trainee.sittings.count() == 1


def test_what_has_passed_its_time_is_nobodys(cast, quiz):
    lay_down(cast.club, cast.secretary, answers=24)
    sitting = sat(quiz, cast.trainee)
    assert count_of(due_on(cast.club, TODAY)).practice == 1
    assert let_go(club=cast.club, today=TODAY).sittings == 1
    sitting.refresh_from_db()
    assert sitting.trainee.nameless
    assert sitting.trainee.club == cast.club
    assert sitting.answers.get().content["marks"][0]["note"] == ""
    assert EntryResult.objects.filter(trainee=sitting.trainee).count() == 2
    assert Membership.objects.get(pk=cast.trainee.pk).left_at is None


def test_run_again_it_does_nothing_more(cast, quiz):
    lay_down(cast.club, cast.secretary, answers=24)
    sat(quiz, cast.trainee)
    let_go(club=cast.club, today=TODAY)
    before = Membership.objects.count()
    assert let_go(club=cast.club, today=TODAY).sittings == 0
    assert Membership.objects.count() == before


def test_a_months_answers_go_together_once_all_are_old_enough(cast, quiz):
    lay_down(cast.club, cast.secretary, answers=24)
    for number, day in enumerate((1, 31), start=1):
        sat(quiz, cast.trainee, LONG_AGO.replace(day=day), number=number)
    assert let_go(club=cast.club, today=datetime.date(2026, 5, 31)).sittings == 0
    assert let_go(club=cast.club, today=datetime.date(2026, 6, 1)).sittings == 2
    assert Sitting.objects.values("trainee").distinct().count() == 1


def test_a_later_sitting_does_not_count_as_a_first_one(cast, quiz):
    lay_down(cast.club, cast.secretary, answers=24)
    sat(quiz, cast.trainee)
    let_go(club=cast.club, today=TODAY)
    assert begin_sitting(quiz=quiz, trainee=cast.trainee).number == 2
    assert SatBefore.objects.get().trainee == cast.trainee


def test_an_abandoned_sitting_goes_by_the_day_it_was_begun(cast, quiz):
    lay_down(cast.club, cast.secretary, answers=24)
    sitting = begin_sitting(quiz=quiz, trainee=cast.trainee)
    Sitting.objects.filter(pk=sitting.pk).update(begun_at=LONG_AGO)
    assert let_go(club=cast.club, today=TODAY).sittings == 1


def test_what_a_person_still_decides_about_stays(cast, quiz):
    lay_down(cast.club, cast.secretary, answers=24)
    answer = sat(quiz, cast.trainee).answers.get()
    marking = makers.make_second_marking(answer, cast.mentor, cast.educator)
    assert let_go(club=cast.club, today=TODAY).sittings == 0
    marking.withdrawn_at = timezone.now()
    marking.save()
    assert let_go(club=cast.club, today=TODAY).sittings == 1


def test_papers_have_their_own_period_from_their_release(cast):
    scene = make_scene(cast)
    lay_down(cast.club, cast.secretary, answers=1, papers=24)
    paper, results = scene.candidate.paper, PaperResult.objects.count()
    later = timezone.localdate() + 100 * DAY
    let_go(club=cast.club, today=later)
    assert paper.candidates.get().member == cast.trainee
    assert cast.trainee.sittings.get().quiz == paper.quiz
    let_go(club=cast.club, today=later + 731 * DAY)
    assert paper.candidates.get().member.nameless
    assert paper.candidates.get().number != 987
    assert PaperResult.objects.count() == results


def test_a_paper_that_is_not_released_is_kept(cast, edition):
    paper = papers.make_set_paper(edition, cast.educator)
    papers.make_paper_sitting(papers.make_candidate(paper, cast.trainee, cast.educator), right_ones=1)
    lay_down(cast.club, cast.secretary, answers=1, papers=1)
    assert let_go(club=cast.club, today=timezone.localdate() + 500 * DAY).sittings == 0


def test_whoever_left_is_erased_after_the_clubs_months(cast, quiz):
    lay_down(cast.club, cast.secretary, left=6)
    sat(quiz, cast.trainee)
    end_membership(membership=cast.trainee)
    Membership.objects.filter(pk=cast.trainee.pk).update(left_at=timezone.now() - 300 * DAY)
    done = let_go(club=cast.club)
    assert (done.erased, done.waiting) == (1, 0)
    assert not Membership.objects.filter(person__name="Una Halcro").exists()
    assert cast.club.erasures.get().by is None


def test_whoever_left_and_waits_for_a_result_waits(cast, edition):
    lay_down(cast.club, cast.secretary, left=6)
    papers.make_candidate(papers.make_set_paper(edition, cast.educator), cast.trainee, cast.educator)
    Membership.objects.filter(pk=cast.trainee.pk).update(left_at=timezone.now() - 300 * DAY)
    assert let_go(club=cast.club).waiting == 1
    assert Membership.objects.filter(person__name="Una Halcro").exists()


def test_every_figure_is_what_it_was(cast):
    scene = make_scene(cast)
    lay_down(cast.club, cast.secretary, answers=1, papers=1)
    before = figures(cast, scene)
    assert let_go(club=cast.club, today=timezone.localdate() + 200 * DAY).sittings > 10
    assert figures(cast, scene) == before


def test_some_people_at_a_time(cast, quiz, monkeypatch):
    monkeypatch.setattr("assessments.actions.keeping.PEOPLE_PER_KEEPING_RUN", 2)
    lay_down(cast.club, cast.secretary, answers=24)
    for number in range(3):
        sat(quiz, makers.make_trainee(cast.club, f"Trainee {number}"))
    assert [let_go(club=cast.club, today=TODAY).sittings for _ in range(3)] == [2, 1, 0]


def test_queries_do_not_grow_with_answers(cast, edition):
    lay_down(cast.club, cast.secretary, answers=24)
    counted = []
    for answers in (1, 20):
        quiz = makers.make_open_quiz(edition, cast.educator, items=answers)
        makers.make_sittings(quiz, [[makers.said()] * answers], trainees=[cast.trainee], finished_at=LONG_AGO)
        with CaptureQueriesContext(connection) as queries:
            let_go(club=cast.club, today=TODAY)
        counted.append(len(queries))
    assert counted[0] == counted[1]


def test_what_becomes_shorter_is_told_thirty_days_before(cast, quiz):
    sat(quiz, cast.trainee)
    today = timezone.localdate()
    with pytest.raises(Refused, match="30 days before"):
        set_keeping_rules(
            club=cast.club,
            by=cast.secretary,
            effective_from=today + 29 * DAY,
            answers=12,
            papers=None,
            left=None,
        )
    assert not Notice.objects.exists()
    set_keeping_rules(
        club=cast.club, by=cast.secretary, effective_from=today + 30 * DAY, answers=12, papers=None, left=None
    )
    assert set(Notice.objects.values_list("member", flat=True)) == {
        member.pk for member in (cast.educator, cast.mentor, cast.trainee, cast.secretary)
    }
    assert keeping_rules(cast.club).answers is None
    assert keeping_rules(cast.club, today + 30 * DAY).answers == 12


def test_before_anybody_has_sat_anything_a_club_begins_as_it_likes(cast):
    today = timezone.localdate()
    fields = {"club": cast.club, "by": cast.secretary, "answers": 12, "papers": 24, "left": 12}
    with pytest.raises(Refused, match="past"):
        set_keeping_rules(effective_from=today - DAY, **fields)
    set_keeping_rules(effective_from=today, **fields)
    assert keeping_rules(cast.club).papers == 24
    assert not Notice.objects.exists()


def test_what_becomes_longer_holds_at_once_and_nobody_is_told(cast):
    lay_down(cast.club, cast.secretary, answers=12, left=6)
    set_keeping_rules(
        club=cast.club,
        by=cast.secretary,
        effective_from=timezone.localdate(),
        answers=24,
        papers=None,
        left=None,
    )
    assert (keeping_rules(cast.club).answers, keeping_rules(cast.club).left) == (24, None)
    assert not Notice.objects.exists()


def test_a_club_that_fails_stops_no_other(cast, quiz, caplog):
    for club, by in ((cast.club, cast.secretary), (cast.other_club, cast.stranger)):
        lay_down(club, by, answers=24)
    sat(quiz, cast.trainee)
    Club.objects.filter(pk=cast.other_club.pk).update(time_zone="Nowhere/Atall")
    with pytest.raises(RuntimeError, match="holm-spaniel"):
        daily.let_go_of_what_is_kept_no_longer()
    assert Sitting.objects.get().trainee.nameless


def test_the_day_says_in_a_sentence_what_was_done(cast, quiz):
    lay_down(cast.club, cast.secretary, answers=1)
    sat(quiz, cast.trainee)
    assert daily.let_go_of_what_is_kept_no_longer() == (
        "Sittings that are nobody's any more: 1. People erased after leaving: 0."
    )
