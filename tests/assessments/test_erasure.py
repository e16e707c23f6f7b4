"""Somebody is erased: nothing of theirs is in any table, every figure is as it was, the club's record stays."""

import datetime

import pytest
from django.apps import apps
from django.contrib.sessions.models import Session
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from assessments.actions.reviews import pin_comment
from assessments.models import (
    Adjustment,
    Answer,
    Comment,
    EntryResult,
    Facility,
    FalseAlarm,
    Figures,
    Mark,
    MarkChange,
    OnRecord,
    PaperResult,
    Review,
    Sitting,
)
from courses.models import EditionStep
from shared.accounts.actions.erasure import erase_member, reasons_against
from shared.accounts.actions.members import change_name
from shared.accounts.models import Erasure, Membership, Person
from shared.accounts.rules import Refused
from tests import makers
from tests.assessments.erasure_scene import ABOUT_THEM, THEIRS, make_scene
from tests.makers import papers


@pytest.fixture
def scene(cast):
    return make_scene(cast)


def whole_database() -> str:
    """Every row of every table, as text."""
    rows = []
    for model in apps.get_models(include_auto_created=True):
        rows += [f"{model._meta.label} {row}" for row in model._base_manager.values_list()]
    return "\n".join(map(str, rows))


def found(words: str) -> list[str]:
    """The rows in which one of these words stands."""
    rows = whole_database().lower().split("\n")
    return [row for row in rows if any(word.lower() in row for word in words.split(" "))]


def figures(cast, scene) -> dict[str, bytes]:
    """Every table of the evidence as its file, worked out anew."""
    Figures.objects.update(counted=-1)
    Facility.objects.update(counted=-1)
    slug, quiz = cast.club.slug, scene.quiz.pk
    item = scene.quiz.items.order_by("quiz_items__position").first().pk
    routes = {
        "evidence-csv": [],
        "evidence-quiz-csv": [quiz],
        "evidence-quiz-marks-csv": [quiz],
        "evidence-item-csv": [quiz, item],
        "evidence-clauses-csv": [],
        "evidence-zones-csv": [],
        "evidence-alarms-csv": [],
        "evidence-mentors-csv": [],
    }
    client = cast.client("educator")
    client.get(reverse("evidence", args=[slug]))
    client.get(reverse("items", args=[slug]))
    given = {route: client.get(reverse(route, args=[slug, *args])).content for route, args in routes.items()}
    # A database may add the same marks up in another order.
    kept = Facility.objects.order_by("item").values_list("item", "people", "share")
    given["facility"] = repr([(item, people, round(share, 9)) for item, people, share in kept]).encode()
    return given


def test_the_scene_has_all_that_is_looked_for(cast, scene):
    for word in (THEIRS + " " + ABOUT_THEM).split():
        assert found(word), word
    assert found("halcro")


def test_nothing_of_an_erased_trainee_is_in_any_table(cast, scene):
    number = scene.candidate.number
    erase_member(membership=cast.trainee, by=cast.secretary)
    assert found("halcro") == []
    assert found(THEIRS) == []
    assert found(ABOUT_THEM) == []
    assert not scene.candidate.paper.candidates.filter(number=number).exists()
    assert not Person.objects.filter(pk=cast.trainee.person_id).exists()
    assert not Membership.objects.filter(pk=cast.trainee.pk).exists()


def test_every_figure_is_what_it_was(cast, scene):
    before = figures(cast, scene)
    assert before == figures(cast, scene)
    erase_member(membership=cast.trainee, by=cast.secretary)
    assert figures(cast, scene) == before


def test_what_figures_rest_on_stays(cast, scene):
    def counts():
        kept = (Sitting, Answer, Mark, EntryResult, FalseAlarm, Adjustment, MarkChange, PaperResult)
        return {model: model.objects.count() for model in kept} | {Review: Review.objects.count()}

    before = counts()
    erase_member(membership=cast.trainee, by=cast.secretary)
    assert counts() == before


def test_answers_are_of_one_who_is_in_no_list(cast, scene):
    erase_member(membership=cast.trainee, by=cast.secretary)
    theirs = Membership.objects.get(nameless=True)
    assert str(theirs.person) == theirs.person.short_name == "a former trainee"
    assert theirs.left_at
    assert not theirs.person.is_active
    assert not theirs.person.has_usable_password()
    assert theirs.sittings.count() == 3
    pages = [reverse(name, args=[cast.club.slug]) for name in ("members", "members-left", "invitations")]
    for page in pages:
        assert b"a former trainee" not in cast.client("secretary").get(page).content
    assert (
        b"a former trainee"
        not in cast.client("educator").get(reverse("mentoring", args=[cast.club.slug])).content
    )


def test_of_times_the_day_stays(cast, scene):
    days = set(EntryResult.objects.values_list("answer", "day"))
    erase_member(membership=cast.trainee, by=cast.secretary)
    assert set(EntryResult.objects.values_list("answer", "day")) == days
    theirs = Answer.objects.filter(sitting__trainee__nameless=True)
    assert {
        timezone.localtime(answer.handed_in_at).strftime("%H:%M") for answer in theirs if answer.handed_in_at
    } == {"12:00"}
    by_rules = MarkChange.objects.filter(answer__in=theirs, by=None)
    assert {timezone.localtime(row.at).hour for row in by_rules} == {12}


def test_the_record_keeps_who_changed_which_mark_when(cast, scene):
    def kept():
        by_people = MarkChange.objects.exclude(by=None)
        return list(by_people.values_list("pk", "kind", "by", "at", "before", "after"))

    before = kept()
    erase_member(membership=cast.trainee, by=cast.secretary)
    assert kept() == before
    rows = MarkChange.objects.filter(answer__sitting__trainee__nameless=True)
    assert set(rows.exclude(by=None).values_list("words", flat=True)) == {""}
    assert "Key version 1, rules version 1." in rows.values_list("words", flat=True)


def test_the_record_still_refuses_everything_else(cast, scene):
    row = MarkChange.objects.first()
    for change in (
        lambda: MarkChange.objects.update(words=""),
        lambda: MarkChange.objects.all().delete(),
        lambda: MarkChange.objects.bulk_update([row], ["words"]),
        row.save,
        row.delete,
    ):
        with pytest.raises(OnRecord):
            change()


def test_nothing_of_an_erased_mentor_names_them_and_their_work_stays(cast, scene):
    comments = Comment.objects.count()
    before = figures(cast, scene)
    erase_member(membership=cast.mentor, by=cast.secretary)
    assert found("flett") == []
    assert Comment.objects.count() == comments
    left = Membership.objects.get(pk=cast.mentor.pk)
    assert left.nameless
    assert str(left.person) == "a former mentor"
    assert Comment.objects.get(text__startswith="Ask").text == "Ask a former mentor."
    assert MarkChange.objects.filter(words__contains="As a former mentor said.").exists()
    after = figures(cast, scene)
    assert after.pop("evidence-mentors-csv") == before.pop("evidence-mentors-csv").replace(
        b"Magnus Flett", b"a former mentor"
    )
    assert after == before


def test_a_name_of_former_years_goes_too(cast, scene):
    change_name(person=cast.mentor.person, name="Magnus Skene")
    MarkChange.objects.create(answer=Answer.objects.first(), kind="settled", words="MAGNUS SKENE’s stands.")
    erase_member(membership=cast.mentor, by=cast.secretary)
    assert found("flett skene") == []


def test_a_single_name_is_taken_out_as_it_is_written(cast, scene):
    change_name(person=cast.mentor.person, name="Will")
    answer = Answer.objects.filter(sitting__trainee__person__name="Osla Mouat").first()
    pin_comment(answer=answer, author=cast.educator, text="It will do, as Will says. Willing!")
    erase_member(membership=cast.mentor, by=cast.secretary)
    assert Comment.objects.filter(text="It will do, as a former mentor says. Willing!").exists()


def test_an_erased_educator_leaves_the_club_its_work(cast, scene):
    makers.make_member(cast.club, "Other Educator", educator=True)
    erase_member(membership=cast.educator, by=cast.secretary)
    assert found("rendall") == []
    assert str(scene.quiz.items.first().made_by) == "a former educator"


def test_somebody_of_two_clubs_leaves_one_alone(cast, scene):
    elsewhere = Membership.objects.create(club=cast.other_club, person=cast.trainee.person, trainee=True)
    quiz = makers.make_open_quiz(makers.make_edition(cast.other_club), cast.stranger)
    makers.make_sittings(quiz, [[makers.said()]], trainees=[elsewhere])
    erase_member(membership=cast.trainee, by=cast.secretary)
    person = Person.objects.get(pk=cast.trainee.person_id)
    assert person.name == "Una Halcro"
    assert person.is_active
    assert elsewhere.sittings.count() == 1
    account = ("accounts.person", "account.emailaddress", "mfa.authenticator", "admin.logentry")
    assert [row for row in found("halcro") if not row.startswith(account)] == []
    assert not person.memberships.filter(club=cast.club).exists()


def test_sessions_end_with_the_person(cast, scene):
    cast.client("trainee")
    cast.client("mentor")
    erase_member(membership=cast.trainee, by=cast.secretary)
    signed_in = [session.get_decoded()["_auth_user_id"] for session in Session.objects.all()]
    assert signed_in == [str(cast.mentor.person_id)]


def test_that_somebody_was_erased_is_known_and_not_who(cast, scene):
    erase_member(membership=cast.trainee, by=cast.secretary)
    kept = Erasure.objects.get()
    assert (kept.club, kept.by, kept.asked_on) == (cast.club, cast.secretary, timezone.localdate())


def test_the_last_secretary_is_not_erased(cast):
    with pytest.raises(Refused, match="at least one secretary"):
        erase_member(membership=cast.secretary, by=cast.secretary)
    makers.make_member(cast.club, "Second Secretary", secretary=True)
    erase_member(membership=cast.secretary, by=cast.secretary)
    assert found("isbister") == []


def test_a_paper_stands_against_it_until_its_results_are_released(cast, edition):
    paper = papers.make_set_paper(edition, cast.educator)
    candidate = papers.make_candidate(paper, cast.trainee, cast.educator)
    assert reasons_against(cast.trainee) == [
        "A candidate of “Paper of the spring”: take the invitation back first."
    ]
    sitting = papers.make_paper_sitting(candidate)
    assert reasons_against(cast.trainee)[0].startswith("Sits “Paper of the spring” now")
    Sitting.objects.filter(pk=sitting.sitting_id).update(finished_at=timezone.now())
    assert reasons_against(cast.trainee) == ["Has sat “Paper of the spring”: release its results first."]
    with pytest.raises(Refused):
        erase_member(membership=cast.trainee, by=cast.secretary)
    assert Person.objects.get(pk=cast.trainee.person_id).name == "Una Halcro"


def test_an_open_panel_stands_against_it_for_assessor_and_trainee(cast, edition):
    quiz = makers.make_open_quiz(edition, cast.educator)
    makers.make_sittings(quiz, [[makers.said()]], trainees=[cast.trainee])
    panel = makers.make_panel(cast.trainee.sittings.get(), cast.mentor, cast.educator)
    assert len(reasons_against(cast.mentor)) == len(reasons_against(cast.trainee)) == 1
    makers.make_told(panel, cast.educator)
    assert reasons_against(cast.mentor) == reasons_against(cast.trainee) == []


def test_work_that_is_asked_for_stands_against_it(cast, edition):
    other = makers.make_mentor(cast.club, "Thora Garrioch")
    quiz = makers.make_open_quiz(edition, cast.educator)
    makers.make_key_panel(quiz.items.get(), cast.educator, cast.mentor)
    makers.make_cut_study(quiz, cast.educator, cast.mentor, other)
    answer = (
        makers.make_sittings(quiz, [[makers.said()]], trainees=[cast.trainee])[0].sittings.get().answers.get()
    )
    makers.make_second_marking(answer, cast.mentor, cast.educator)
    assert [reason.split(":")[0] for reason in reasons_against(cast.mentor)] == [
        "Is asked to mark for a key",
        "Is asked for estimates for a pass mark",
        "Is asked for a second mark",
    ]


def test_queries_do_not_grow_with_answers(cast, edition):
    counted = []
    for name, answers in (("One Answer", 1), ("Twenty Answers", 20)):
        member = makers.make_trainee(cast.club, name)
        quiz = makers.make_open_quiz(edition, cast.educator, items=answers)
        makers.make_sittings(quiz, [[makers.said()] * answers], trainees=[member])
        with CaptureQueriesContext(connection) as queries:
            erase_member(membership=member, by=cast.secretary)
        counted.append(len(queries))
    assert counted[0] == counted[1]


def test_undoing_an_edition_afterwards_confirms_for_nobody(cast, scene):
    step = EditionStep.objects.create(
        edition=scene.quiz.edition,
        label="5.1 changed",
        before={"clauses": [{"id": 1, "severity_confirmed_by_id": cast.trainee.person_id}]},
        made_by=cast.educator.person,
    )
    erase_member(membership=cast.trainee, by=cast.secretary)
    step.refresh_from_db()
    assert step.before["clauses"][0]["severity_confirmed_by_id"] is None


def test_a_sitting_of_one_day_is_dated_in_the_club(cast, scene):
    cast.club.time_zone = "Pacific/Auckland"
    cast.club.save()
    Answer.objects.filter(sitting__trainee=cast.trainee).update(
        handed_in_at=datetime.datetime(2026, 3, 1, 12, 30, tzinfo=datetime.UTC)
    )
    erase_member(membership=Membership.objects.get(pk=cast.trainee.pk), by=cast.secretary)
    moments = {row.handed_in_at for row in Answer.objects.filter(sitting__trainee__nameless=True)}
    assert {moment.isoformat() for moment in moments} == {"2026-03-01T23:00:00+00:00"}
