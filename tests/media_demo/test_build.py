"""A corner of the demo, built through the actions, hangs together."""

import datetime as dt
import zoneinfo

import pytest
from django.conf import settings
from django.db import transaction
from django.db.models import F, Q
from django.test import Client
from django.utils import timezone

from assessments.items import kind_of
from assessments.models import (
    Adjustment,
    Answer,
    Comment,
    EntryResult,
    FalseAlarm,
    Figures,
    Item,
    Key,
    Mark,
    Notice,
    Paper,
    PaperResult,
    PaperSitting,
    Query,
    Quiz,
    Review,
    Sitting,
)
from assessments.queries.quizzes import published_key
from assessments.rules import standing_points
from courses.models import Course, Edition, Exhibit, Fault, Plate, Progress
from courses.queries.plate import sides_of
from media_demo.build import build
from media_demo.loading import read_scenario
from media_demo.pages import PAGES
from shared.accounts.models import Invitation, Person
from shared.accounts.roles import Role

pytestmark = pytest.mark.django_db
SCENARIO = read_scenario("small")
UNA = "una.halcro@example.org"
NOW = timezone.now()
ZONE = zoneinfo.ZoneInfo(SCENARIO.club["time_zone"])


@pytest.fixture(scope="module")
def people(django_db_setup, django_db_blocker, tmp_path_factory):
    """Built once for this module, and rolled back behind it."""
    with django_db_blocker.unblock(), pytest.MonkeyPatch.context() as patch, transaction.atomic():
        patch.setattr(settings, "MEDIA_ROOT", tmp_path_factory.mktemp("media"))
        yield build(SCENARIO, passwords={UNA: "kobu-tami-reso-lanu"}, now=NOW)
        transaction.set_rollback(True)


@pytest.fixture
def una(people):
    return people.by_email[UNA]


def test_everyone_is_there_in_their_roles(people):
    expected = {member.email: set(member.roles) for member in (*SCENARIO.members, *SCENARIO.trainees)}
    assert {email: set(member.roles) for email, member in people.by_email.items()} == expected
    assert people.first(Role.SECRETARY).person.name == "Bruce Isbister"
    mentored = {email for member in SCENARIO.members for email in member.mentors} & expected.keys()
    assert {m.person.email for m in people.by_email.values() if m.mentors_of.exists()} == mentored


def test_only_who_was_given_a_password_signs_in_with_one(people):
    assert [person.email for person in Person.objects.all() if person.has_usable_password()] == [UNA]
    assert Person.objects.get(email=UNA).check_password("kobu-tami-reso-lanu")


def test_the_older_edition_has_retired_and_the_newer_is_worded_as_written(people):
    old, new = Edition.objects.filter(breed=people.breed).order_by("issued_on")
    assert (old.state, new.state) == ("retired", "released")
    for edition, text in ((old, SCENARIO.editions[0].text), (new, SCENARIO.editions[1].text)):
        written = [f"{clause.number} {clause.text}" for clause in edition.clauses.all()]
        assert written == [line for line in text.splitlines() if line[:1].isdigit()]
    assert not new.clauses.filter(severity_confirmed_at=None).exists()
    assert new.follows == old
    assert (new.clauses.get(number="5.1").measure, new.clauses.get(number="5.1").low) == ("layback", 30)


def test_the_list_of_faults_stands_on_the_edition_in_force(people):
    faults = Fault.objects.filter(breed=people.breed).select_related("clause__edition")
    assert {fault.name for fault in faults} == {fault.name for fault in SCENARIO.faults}
    assert {fault.clause.edition.state for fault in faults} == {"released"}


def test_every_exhibit_is_drawn_published_and_has_its_points_and_files(people):
    exhibits = Exhibit.objects.filter(club=people.club).prefetch_related("renditions", "placements")
    assert exhibits.count() == len(SCENARIO.figures())
    for exhibit in exhibits:
        assert (exhibit.kind, exhibit.state) == ("drawn", "published")
        assert {"webp", "jpeg"} == {row.format for row in exhibit.renditions.all()}
        assert exhibit.placements.get().exact


def test_what_a_quiz_shows_tells_nothing_in_words(people):
    names = {name.casefold() for fault in SCENARIO.faults for name in (fault.name, *fault.other_names)}
    dogs = {dog for quiz in SCENARIO.quizzes for dog in quiz.dogs}
    for exhibit in Exhibit.objects.filter(items__isnull=False):
        assert exhibit.description == ""
        assert exhibit.caption.casefold() in dogs - names


def test_every_key_is_complete_and_in_use(people):
    for item in Item.objects.filter(edition__breed=people.breed):
        key = published_key(item)
        assert (item.state, kind_of(item).lacks(key)) == ("in use", [])
        if item.kind != "mark-the-faults":
            continue
        faults = item.exhibit.drawing["faults"]
        assert key.sound == (not faults)
        assert {entry.fault.figure for entry in key.entries.all()} == set(faults)
        for entry in key.entries.all():
            assert entry.clause_id == entry.fault.clause_id
            assert entry.whole_dog == (not entry.regions)
    assert {quiz.state for quiz in Quiz.objects.filter(purpose="practice")} == {"open"}


def test_the_course_is_published_with_its_exhibits_in_the_order_of_their_letters(people):
    course = Course.objects.get(edition__breed=people.breed)
    modules = list(course.modules.all())
    assert {course.state, *(module.state for module in modules)} == {"published"}
    assert [module.title for module in modules] == [module.title for module in SCENARIO.modules]
    for module, text in zip(modules, SCENARIO.modules, strict=True):
        places = [place.plate.number if place.plate else place.kind for place in module.places.all()]
        assert places == ["text", *text.plates, *["quiz" for _ in text.quizzes]]
        assert all(place.quiz for place in module.places.filter(kind="quiz"))
    for text in SCENARIO.plates:
        plate = Plate.objects.get(edition=course.edition, number=text.number)
        assert (plate.state, plate.title, plate.note) == ("published", text.title, text.note)
        assert [row.clause.number for row in plate.plate_clauses.all()] == list(text.clauses)
        correct, incorrect = sides_of(plate)
        for rows, figures in ((correct, text.correct), (incorrect, text.incorrect)):
            assert [row.exhibit.drawing["faults"] for row in rows] == [dict(f.faults) for f in figures]


@pytest.mark.parametrize("shown", PAGES, ids=lambda shown: f"{shown.role or 'signed out'}, {shown.name}")
def test_every_page_of_the_table_opens_for_whom_it_is_for(people, shown):
    path = shown.address(people.club)
    if path is None:  # the smaller demo has no such thing
        assert shown.name in ("answer returned", "review, adjusted")
        return
    client = Client()
    if shown.role:
        client.force_login(people.first(Role(shown.role)).person, settings.AUTHENTICATION_BACKENDS[0])
    assert client.get(path, follow=True).status_code == 200


def test_who_answered_a_modules_quizzes_has_read_it(people, una):
    for member in SCENARIO.trainees:
        progress = Progress.objects.filter(person=people.by_email[member.email].person)
        assert progress.filter(finished_at__isnull=False).count() == member.sittings
    stopped = Progress.objects.get(person=una.person, finished_at=None)
    assert (stopped.module.title, stopped.place.position) == ("Body and topline", 1)


def test_each_trainee_has_answered_what_the_scenario_says(people):
    for member in SCENARIO.trainees:
        sittings = Sitting.objects.filter(trainee=people.by_email[member.email], quiz__place__isnull=False)
        assert sittings.count() == member.sittings
        assert not sittings.filter(finished_at=None).exists()


def test_una_is_in_the_middle_of_a_quiz(una):
    (sitting,) = Sitting.objects.filter(trainee=una, finished_at=None)
    handed_in = sitting.answers.exclude(handed_in_at=None).count()
    (begun,) = sitting.answers.filter(handed_in_at=None).exclude(saved_at=None)
    assert handed_in == begun.position == 2
    assert sitting.answers.count() == 4


def test_every_mark_is_what_the_rules_give(people):
    by_rules = Mark.objects.filter(current=True).exclude(answer__item__kind="write-a-critique")
    marks = list(by_rules.select_related("answer__item__edition", "key", "rules"))
    answers = Answer.objects.exclude(item__kind="write-a-critique")
    assert len(marks) == answers.exclude(handed_in_at=None).count() > 80
    assert not Mark.objects.filter(answer__handed_in_at=None).exists()
    for mark in marks:
        key = Key.objects.prefetch_related("entries__fault", "entries__clause").get(pk=mark.key_id)
        (again,) = kind_of(mark.answer.item).mark(key, mark.rules, [mark.answer.content])
        assert mark.score == again.score
        assert (mark.seeing, mark.naming, mark.weighing) == (again.seeing, again.naming, again.weighing)
        assert mark.detail["lines"] == again.detail["lines"]


def test_one_key_was_revised_and_its_answers_marked_anew(people):
    (revised,) = Key.objects.filter(version=2).exclude(published_at=None)
    before = revised.item.keys.get(version=1)
    assert not any(entry.also for entry in before.entries.all())
    assert all(entry.also for entry in revised.entries.all())
    assert {mark.key_id for mark in Mark.objects.filter(answer__item=revised.item, current=True)} == {
        revised.pk
    }
    assert Mark.objects.filter(key=before, current=False).exists()
    told = Notice.objects.filter(by=None, answer__item=revised.item)
    assert {notice.made_at.date() for notice in told} <= {revised.published_at.date()}


def test_another_key_is_in_work(people):
    (draft,) = Key.objects.filter(published_at=None)
    assert draft.version == 2
    assert draft.note == SCENARIO.drafted.note


def test_figures_of_open_quizzes_are_worked_out(people):
    of_modules = Figures.objects.filter(quiz__sittings__isnull=False, quiz__place__isnull=False)
    assert all(figures.fresh and figures.data for figures in of_modules)


def test_critiques_are_written_marked_by_both_mentors_and_one_waits(people):
    written = {
        (answer.sitting.trainee.person.name, answer.position): answer
        for answer in Answer.objects.filter(item__kind="write-a-critique").exclude(handed_in_at=None)
    }
    marks = Mark.objects.filter(answer__in=written.values(), current=True)
    marked = {
        (mark.answer.sitting.trainee.person.name, mark.answer.position): mark.answer.review.mentor.person.name
        for mark in marks.select_related("answer")
    }
    assert marked == {
        ("Sigrid Leask", 0): "Thora Garrioch",
        ("Sigrid Leask", 1): "Thora Garrioch",
        ("Una Halcro", 0): "Magnus Flett",
        ("Asta Groat", 0): "Thora Garrioch",
    }
    assert written.keys() - marked.keys() == {("Una Halcro", 1)}
    scores = [mark.score for mark in marks.order_by("score")]
    assert len(set(scores)) == 4
    for mark in marks:
        assert mark.answer.review.opened_at <= mark.marked_at <= mark.answer.review.returned_at
        assert sum(line["points"] for line in mark.detail["lines"]) == pytest.approx(mark.score)


def test_all_but_the_newest_answers_are_returned(people):
    for member in SCENARIO.members:
        for email in set(member.mentors) & people.by_email.keys():
            answers = Answer.objects.filter(
                sitting__trainee=people.by_email[email],
                sitting__quiz__place__isnull=False,
                handed_in_at__isnull=False,
            )
            unseen = answers.filter(review=None)
            assert unseen.count() == SCENARIO.reviews["waiting"]
            assert min(a.handed_in_at for a in unseen) >= max(
                a.handed_in_at for a in answers.exclude(review=None)
            )


def test_comments_are_whole_sentences_in_the_picture(people):
    comments = Comment.objects.select_related("answer__item__exhibit")
    assert comments.count() > 20
    assert len({comment.text for comment in comments}) > 12
    for comment in comments:
        assert comment.text[0].isupper() or comment.text[0].isdigit()
        assert comment.text[-1] in ".?!"
        assert "{" not in comment.text
        exhibit = comment.answer.item.exhibit
        if comment.y is not None:
            assert comment.y <= exhibit.height / max(exhibit.width, exhibit.height) + 1e-6


def test_adjustments_stand_beside_the_mark_with_a_reason(people):
    for adjustment in Adjustment.objects.select_related("mark", "answer__review"):
        assert adjustment.points > 0
        assert adjustment.reason
        assert 0 <= standing_points(adjustment.mark, adjustment) <= 100
        assert adjustment.answer.review.returned_at


def test_one_disputes_a_mark_and_waits_for_the_mentor(people):
    open_queries = Query.objects.filter(settled_at=None)
    assert [query.answer.sitting.trainee.person.name for query in open_queries] == ["Brenda Sclatter"]
    assert Review.objects.get(answer__query=open_queries[0]).returned_at is None


def test_a_paper_was_sat_by_number_and_its_results_released(people, una):
    paper = Paper.objects.get()
    items, wanted = set(paper.quiz.items.all()), sum(row["wanted"] for row in paper.plan)
    assert len(items) == wanted > 2
    assert {published_key(item).fit for item in items} == {"examination"}
    results = PaperResult.objects.select_related("sitting__candidate")
    assert len(results) == paper.candidates.count() == PaperSitting.objects.count() > 4
    assert {result.pass_mark for result in results} == {SCENARIO.paper["regulations"]["pass_mark"] / 100}
    assert len({result.score for result in results}) > 2
    assert paper.set_at < paper.opens_at < paper.closes_at < paper.released_at < NOW
    assert una.notices.filter(answer=None, made_at=paper.released_at).exists()


def test_times_are_in_the_past_and_in_order(people):
    assert not Answer.objects.filter(
        Q(saved_at__gt=NOW) | Q(saved_at__lt=F("sitting__begun_at")) | Q(handed_in_at__lt=F("saved_at"))
    ).exists()
    by_rules = Mark.objects.exclude(answer__item__kind="write-a-critique")
    assert not by_rules.filter(key__version=1).exclude(marked_at=F("answer__handed_in_at")).exists()
    assert not Mark.objects.filter(marked_at__lt=F("answer__handed_in_at")).exists()
    assert not Mark.objects.filter(marked_at__lt=F("key__published_at")).exists()
    for counted in (EntryResult, FalseAlarm):
        rows = counted.objects.values_list("day", "answer__handed_in_at")
        assert rows
        assert all(day == at.astimezone(ZONE).date() for day, at in rows)
    assert not Sitting.objects.filter(
        Q(finished_at__gt=NOW) | Q(begun_at__lt=F("trainee__joined_at"))
    ).exists()
    assert not Sitting.objects.filter(begun_at__lt=F("quiz__opened_at")).exists()
    assert not Review.objects.filter(
        Q(returned_at__gt=NOW) | Q(opened_at__lt=F("answer__handed_in_at"))
    ).exists()
    assert not Exhibit.objects.filter(published_at__gt=NOW - dt.timedelta(days=150)).exists()
    spread = Answer.objects.exclude(handed_in_at=None).dates("handed_in_at", "day")
    assert (spread[len(spread) - 1] - spread[0]).days > 90


def test_two_links_wait_to_be_used(people):
    waiting = Invitation.objects.filter(club=people.club, accepted_at=None)
    assert {invitation.email for invitation in waiting} == {row["email"] for row in SCENARIO.club["invited"]}
    assert {(invitation.expires_at - NOW).days for invitation in waiting} == {2, 11}


def test_virtues_shown_faults_and_points_are_asked_and_answered(people, una):
    quiz = Quiz.objects.get(title=SCENARIO.on_a_picture["title"])
    assert [row.item.kind for row in quiz.quiz_items.select_related("item")] == [
        row["kind"] for row in SCENARIO.on_a_picture["item"]
    ]
    marks = Mark.objects.filter(current=True, answer__sitting__quiz=quiz)
    assert marks.filter(answer__sitting__trainee=una).count() == len(SCENARIO.on_a_picture["item"])
    assert {mark.answer.item.kind for mark in marks if mark.score > 0.9} >= {
        "place-the-points",
        "weigh-the-fault",
    }
    assert not EntryResult.objects.filter(quiz=quiz).exists()
