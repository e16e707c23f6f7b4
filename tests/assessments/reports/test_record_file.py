"""A trainee's own record as data: exactly what their pages show, however much there is."""

from __future__ import annotations

import datetime
import json
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from assessments.actions.mentoring import say_own_word
from assessments.actions.reviews import adjust_mark, ask_query, pin_comment, return_answer
from assessments.models import Answer, Sitting
from assessments.queries.own_record import SITTINGS_AT_ONCE
from shared.accounts.models import Membership
from tests import makers
from tests.makers.papers import make_candidate, make_paper_sitting, make_regulations, make_set_paper

CLUB = "/clubs/skerry-drover"


def record(client):
    response = client.get(f"{CLUB}/record/record.json")
    assert response.streaming
    return json.loads(b"".join(response.streaming_content))


@pytest.fixture
def quiz(cast, edition):
    return makers.make_open_quiz(edition, cast.educator)


@pytest.fixture
def answer(cast, quiz):
    """The shoulder seen, named and weighed one level light; the back missed; a pin called a fault where none is."""
    makers.make_mentorship(cast.mentor, cast.trainee)
    shoulder = quiz.edition.breed.faults.get(name="Upright shoulder")
    pins = [makers.pin(0.35, 0.5, shoulder, 1) | {"note": "Steep."}, makers.pin(0.9, 0.2, None, 0)]
    makers.make_sittings(quiz, [[makers.said(*pins)]], trainees=[cast.trainee])
    return Answer.objects.get()


def test_an_answer_is_told_with_its_mark_line_by_line(cast, answer):
    client = cast.client("trainee")
    [sitting] = record(client)["sittings"]
    assert {part: sitting[part] for part in ("quiz", "edition", "number")} == {
        "quiz": "Forequarters in profile",
        "edition": "Edition of 2026",
        "number": 1,
    }
    [told] = sitting["answers"]
    assert told["said"] == {
        "marks": [
            {"x": 0.35, "y": 0.5, "fault": "Upright shoulder", "level": "Moderate", "note": "Steep."},
            {"x": 0.9, "y": 0.2, "fault": None, "level": "Minor", "note": ""},
        ],
        "nothing_found": False,
    }
    mark = told["mark"]
    assert mark["points"] == mark["by_the_rules"] == sitting["mean"]
    assert sum(line["points"] for line in mark["lines"]) == pytest.approx(mark["points"])
    page = client.get(f"{CLUB}/answers/{answer.pk}/").content.decode()
    for line in mark["lines"]:
        assert line["text"] in page
        assert line["about"] in page
    assert (mark["key_version"], mark["rules_version"], mark["adjustment"]) == (1, 1, None)
    assert told["exhibit"] == answer.item.exhibit.number
    assert (told["comments"], told["query"]) == ([], None)


def test_what_mentors_said_and_changed_is_in_it(cast, answer):
    pin_comment(answer=answer, author=cast.mentor, text="Look again here.", x=0.3, y=0.4)
    ask_query(answer=answer, text="Is the back not sound?")
    adjust_mark(
        answer=answer, mentor=cast.mentor, what="The back", points=Decimal("4.5"), reason="A poor light."
    )
    return_answer(answer=answer, mentor=cast.mentor, upheld=True, reply="You are right.")
    [sitting] = record(cast.client("trainee"))["sittings"]
    [told] = sitting["answers"]
    assert told["mark"]["adjustment"] == {
        "by": "Magnus Flett",
        "what": "The back",
        "points": 4.5,
        "reason": "A poor light.",
    }
    assert told["mark"]["points"] == pytest.approx(told["mark"]["by_the_rules"] + 4.5)
    assert sitting["mean"] == told["mark"]["points"]
    [comment] = told["comments"]
    assert (comment["by"], comment["text"], comment["x"]) == ("Magnus Flett", "Look again here.", 0.3)
    assert (told["query"]["text"], told["query"]["upheld"], told["query"]["reply"]) == (
        "Is the back not sound?",
        True,
        "You are right.",
    )


def test_other_kinds_are_told_in_words_too(cast, edition):
    options = [{"id": "a1", "text": "The blade"}, {"id": "b2", "text": "The arm"}]
    asking = {"stem": "What is steep?", "several": False, "options": options}
    item = makers.make_item_of(edition, cast.educator, "choose", asking=asking, content={"right": ["a1"]})
    quiz = makers.make_quiz_asking(edition, cast.educator, item)
    makers.make_sittings(quiz, [[{"chosen": ["b2"]}]], trainees=[cast.trainee])
    [told] = record(cast.client("trainee"))["sittings"][0]["answers"]
    assert told["said"] == {"chosen": ["The arm"]}


def test_sessions_sign_offs_and_panels_are_in_it(cast, answer):
    planned = makers.make_session(cast.mentor, cast.trainee, held_on=None, subject="Planned")
    held = makers.make_session(cast.mentor, cast.trainee)
    say_own_word(row=held.trainees.get(), own_session="A good hour.", own_mentor="Patient.")
    makers.make_sign_off(cast.trainee, cast.mentor, answer.sitting.quiz)
    makers.make_told(makers.make_panel(answer.sitting, cast.mentor, cast.educator), cast.educator)
    found = record(cast.client("trainee"))
    first, second = found["mentoring"]["sessions"]
    assert (first["subject"], first["held_on"], first["ending"]) == ("Planned", None, None)
    assert first["planned_for"] == planned.planned_for.isoformat()
    assert (second["minutes"], second["ending"], second["reason"]) == (50, "ready", "Saw it unprompted.")
    assert (second["own_word"]["on_session"], second["own_word"]["on_mentor"]) == ("A good hour.", "Patient.")
    [sign_off] = found["mentoring"]["sign_offs"]
    assert (sign_off["quiz"], sign_off["mentor"], sign_off["words"], sign_off["taken_back"]) == (
        "Forequarters in profile",
        "Magnus Flett",
        "Seen it all.",
        None,
    )
    [panel] = found["panels"]
    assert (panel["passed"], panel["assessors"], panel["needed"]) == (True, 1, 1)
    assert panel["words"] == [{"text": "Seen at once.", "clause": None, "item": 1}]
    assert set(panel) == {"quiz", "sitting", "passed", "assessors", "needed", "told_at", "words"}


def test_its_shape_and_its_figures(cast, answer):
    found = record(cast.client("trainee"))
    assert list(found) == [
        "shape",
        "version",
        "exported_at",
        "club",
        "person",
        "cautions",
        "eye",
        "papers",
        "panels",
        "mentoring",
        "sittings",
    ]
    assert (found["shape"], found["version"]) == ("standpoint-record", 1)
    assert (found["club"], found["person"]) == ("Skerry Drover Club", "Una Halcro")
    eye = found["eye"]
    assert eye["answers"] == 1
    forequarters = next(zone for zone in eye["zones"] if zone["zone"] == "forequarters")
    # One answer says nothing surely; the page says "not yet".
    assert forequarters == {"zone": "forequarters", "see": None, "name": None, "weigh": None, "asked": 1}
    assert (eye["faulting"], eye["weighing"], eye["agreement"]) == (None, None, None)
    assert eye["faults_weighed"] == 1


def test_figures_of_many_answers_are_those_of_the_page(cast, edition):
    quiz = makers.make_open_quiz(edition, cast.educator, items=30)
    shoulder = edition.breed.faults.get(name="Upright shoulder")
    makers.make_sittings(
        quiz, [[makers.said(makers.pin(0.35, 0.5, shoulder, 1))] * 30], trainees=[cast.trainee]
    )
    client = cast.client("trainee")
    eye = record(client)["eye"]
    zone = next(zone for zone in eye["zones"] if zone["zone"] == "forequarters")
    # Thirty of thirty: the Beta distribution with 31 and 1 has the mean 31/32.
    assert zone["see"]["share"] == pytest.approx(31 / 32)
    page = client.get(f"{CLUB}/record/").content.decode()
    assert f"{round(100 * zone['see']['share'])}\N{NO-BREAK SPACE}%" in page
    # One level light each time.
    assert eye["weighing"] == {"levels": -1.0, "low": -1.0, "high": -1.0}


def test_times_are_the_clubs_own(cast, answer):
    cast.club.time_zone = "America/St_Johns"
    cast.club.save()
    at = datetime.datetime(2026, 7, 1, 12, 0, tzinfo=datetime.UTC)
    Sitting.objects.update(begun_at=at)
    assert record(cast.client("trainee"))["sittings"][0]["begun_at"] == "2026-07-01T09:30:00-02:30"


def test_what_is_not_handed_in_is_not_told(cast, quiz):
    Sitting.objects.create(quiz=quiz, trainee=cast.trainee, number=1)
    answer = Answer.objects.create(
        sitting=Sitting.objects.get(),
        item=quiz.items.get(),
        position=0,
        content=makers.said(makers.pin(0.1, 0.1)),
    )
    [sitting] = record(cast.client("trainee"))["sittings"]
    assert (sitting["answers"], sitting["finished_at"], sitting["mean"]) == ([], None, None)
    Answer.objects.filter(pk=answer.pk).update(passed_over_at=timezone.now())
    [sitting] = record(cast.client("trainee"))["sittings"]
    assert sitting["answers"][0]["said"] is None
    assert sitting["answers"][0]["passed_over_at"]


@pytest.mark.parametrize("discloses", [True, False])
def test_a_paper_is_told_once_released_and_by_its_regulations(cast, edition, discloses):
    from assessments.actions.paper_results import end_paper, release_results

    make_regulations(cast.club, discloses_mark=discloses)
    paper = make_set_paper(edition, cast.educator)
    make_paper_sitting(make_candidate(paper, cast.trainee, cast.educator), right_ones=2)
    client = cast.client("trainee")
    assert record(client)["papers"] == []
    end_paper(paper=paper)
    assert record(client)["papers"] == []
    release_results(paper=paper, by=cast.educator.person)
    [told] = record(client)["papers"]
    assert (told["title"], told["edition"]) == ("Paper of the spring", "Edition of 2026")
    assert told["result"] in ("pass", "refer", "borderline")
    assert told["mark"] == (66.7 if discloses else None)
    assert (told["pass_mark"] is None) is not discloses
    assert record(client)["sittings"] == [], "A paper's items and answers are in no file."


def test_only_trainees_have_one_and_only_their_own(cast, answer):
    assert cast.client("mentor").get(f"{CLUB}/record/record.json").status_code == 403
    other = makers.make_trainee(cast.club, "Erlend Scollay")
    client = cast.client("nobody")
    client.force_login(other.person, "django.contrib.auth.backends.ModelBackend")
    found = record(client)
    assert (found["person"], found["sittings"]) == ("Erlend Scollay", [])


def test_the_secretary_hands_over_the_record_of_who_has_left(cast, answer):
    say_own_word(
        row=makers.make_session(cast.mentor, cast.trainee).trainees.get(),
        own_session="A good hour.",
        own_mentor="Impatient.",
    )
    secretary, address = cast.client("secretary"), f"{CLUB}/members/{cast.trainee.pk}/record.json"
    assert secretary.get(address).status_code == 404, "A member takes their own."
    Membership.objects.filter(pk=cast.trainee.pk).update(left_at=timezone.now())
    assert address in secretary.get(f"{CLUB}/members/").content.decode()
    sent = b"".join(secretary.get(address).streaming_content).decode()
    found = json.loads(sent)
    assert len(found["sittings"]) == 1
    assert found["mentoring"]["sessions"][0]["own_word"] is None
    assert "Impatient" not in sent
    assert cast.client("educator").get(address).status_code == 403
    Membership.objects.filter(pk=cast.trainee.pk).update(nameless=True)
    assert secretary.get(address).status_code == 404, "Of somebody erased there is no record."
    assert cast.client("stranger").get(address.replace("skerry-drover", "holm-spaniel")).status_code == 404


def test_many_sittings_cost_a_fixed_number_of_queries_a_batch(cast, quiz):
    shoulder = quiz.edition.breed.faults.get(name="Upright shoulder")

    def sit(numbers):
        for number in numbers:
            said = [makers.said(makers.pin(0.35, 0.5, shoulder, 1))]
            makers.make_sittings(quiz, [said], trainees=[cast.trainee], number=number)

    client, counts = cast.client("trainee"), []
    for numbers in (
        range(1, 2),
        range(2, SITTINGS_AT_ONCE + 1),
        range(SITTINGS_AT_ONCE + 1, SITTINGS_AT_ONCE + 2),
    ):
        sit(numbers)
        with CaptureQueriesContext(connection) as queries:
            assert len(record(client)["sittings"]) == numbers[-1]
        counts.append(len(queries))
    one, full, more = counts
    assert one == full
    assert 0 < more - full <= 8
