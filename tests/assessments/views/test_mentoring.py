"""Sessions, sign-offs and the trainee's own word: who writes, who reads."""

import datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from assessments.models import MentoringRules, MentoringSession, SessionTrainee, SignOff
from shared.accounts.models import Membership
from tests import makers

CLUB = "/clubs/skerry-drover"
TODAY = timezone.localdate()


@pytest.fixture
def mentored(cast):
    return makers.make_mentorship(cast.mentor, cast.trainee)


def page(cast, who, address):
    return cast.client(who).get(f"{CLUB}/{address}").content.decode()


def send(cast, who, address, **sent):
    return cast.client(who).post(f"{CLUB}/{address}", sent)


def plan(cast, day=TODAY, **sent):
    given = {"trainees": [cast.trainee.pk], "subject": "Lay of shoulder", "planned_for": day}
    return send(cast, "mentor", "sessions/new/", **(given | sent))


def test_a_planned_session_is_told_held_and_told_how_it_ended(cast, mentored):
    assert plan(cast).status_code == 302
    session = MentoringSession.objects.get()
    assert "Magnus Flett plans a session with you on" in page(cast, "trainee", "record/")
    assert "Lay of shoulder" in page(cast, "mentor", "sessions/")
    row = session.trainees.get()
    sent = {
        "held_on": TODAY,
        "minutes": 55,
        f"ending-{row.pk}": "needs more",
        f"reason-{row.pk}": "5.1 takes long.",
    }
    assert send(cast, "mentor", f"sessions/{session.pk}/", **sent).status_code == 302
    own = page(cast, "trainee", "record/mentoring/")
    for words in (
        "needs more",
        "5.1 takes long.",
        "55 minutes",
        "one to one",
        "who may judge is for the registry",
    ):
        assert words in own
    assert "Your session with Magnus Flett ended: needs more." in page(cast, "trainee", "record/")
    assert "Lay of shoulder" not in page(cast, "mentor", "sessions/")


@pytest.mark.parametrize(
    ("sent", "error"),
    [
        ({"trainees": []}, "Choose at least one trainee."),
        ({"subject": ""}, "required"),
        ({"planned_for": ""}, "required"),
        ({"planned_for": "tomorrow"}, "valid date"),
    ],
)
def test_a_plan_that_lacks_something_is_refused_beside_it(cast, mentored, sent, error):
    response = plan(cast, **sent)
    assert response.status_code == 422
    assert error in response.content.decode()
    assert not MentoringSession.objects.exists()


def test_more_than_two_make_a_group(cast, mentored):
    others = [makers.make_trainee(cast.club, f"Trainee {n}") for n in range(2)]
    for other in others:
        makers.make_mentorship(cast.mentor, other)
    everyone = [cast.trainee.pk, *(other.pk for other in others)]
    response = plan(cast, trainees=everyone)
    assert "With more than two trainees it is a group session: tick this." in response.content.decode()
    assert plan(cast, trainees=everyone, group="on").status_code == 302
    assert MentoringSession.objects.get().trainees.count() == 3


def test_a_session_is_with_ones_own_trainees(cast, mentored):
    other = makers.make_trainee(cast.club, "Ailie Tulloch")
    assert plan(cast, trainees=[other.pk]).status_code == 422


@pytest.mark.parametrize(
    ("field", "value", "error"),
    [
        ("reason", "", "Give the reason: the trainee reads it."),
        ("ending", "", "Say how it ended."),
        ("ending", "fine", "valid choice"),
        ("held_on", TODAY + datetime.timedelta(days=2), "This day is still to come."),
        ("minutes", "0", "greater than or equal to 1"),
    ],
)
def test_an_ending_needs_its_reason_and_a_day_that_is_past(cast, mentored, field, value, error):
    session = makers.make_session(cast.mentor, cast.trainee, held_on=None)
    row = session.trainees.get()
    sent = {"held_on": TODAY, "minutes": 30, "ending": "ready", "reason": "Kept words."} | {field: value}
    sent |= {f"{name}-{row.pk}": sent.pop(name) for name in ("ending", "reason")}
    response = send(cast, "mentor", f"sessions/{session.pk}/", **sent)
    assert response.status_code == 422
    assert error in response.content.decode()
    session.refresh_from_db()
    assert session.held_on is None
    if field != "reason":
        assert "Kept words." in response.content.decode()


def test_what_is_recorded_is_not_changed_only_struck_out_with_a_reason(cast, mentored):
    session = makers.make_session(cast.mentor, cast.trainee)
    row = session.trainees.get()
    sent = {"held_on": TODAY, "minutes": 5, f"ending-{row.pk}": "needs more", f"reason-{row.pk}": "Changed."}
    response = cast.client("mentor").post(f"{CLUB}/sessions/{session.pk}/", sent, follow=True)
    assert "This session is recorded." in response.content.decode()
    row.refresh_from_db()
    assert row.ending == "ready"
    assert send(cast, "mentor", f"sessions/{session.pk}/strike/", reason="").status_code == 422
    send(cast, "mentor", f"sessions/{session.pk}/strike/", reason="It was another day.")
    own = page(cast, "trainee", "record/mentoring/")
    assert "It was another day." in own
    assert "<dd>0</dd>" in own
    again = cast.client("mentor").post(f"{CLUB}/sessions/{session.pk}/strike/", {"reason": "r"}, follow=True)
    assert "This session was struck out." in again.content.decode()


def test_the_trainee_s_own_word_is_read_by_educators_and_not_by_the_mentor(cast, mentored):
    row = makers.make_session(cast.mentor, cast.trainee).trainees.get()
    address = f"record/sessions/{row.pk}/"
    form = page(cast, "trainee", address)
    assert "You and the club’s educators read this. Magnus Flett does not." in form
    send(cast, "trainee", address, own_session="It was ten minutes.", own_mentor="Showed his own dogs.")
    for who, seen in (("trainee", "record/mentoring/"), ("educator", "mentoring/"),
                      ("educator", f"mentoring/trainees/{cast.trainee.pk}/")):  # fmt: skip
        said = page(cast, who, seen)
        assert "It was ten minutes." in said
        assert "Showed his own dogs." in said
    mentors = [f"trainees/{cast.trainee.pk}/mentoring/", f"sessions/{row.session_id}/", "sessions/", ""]
    for address in mentors:
        said = page(cast, "mentor", address)
        assert "ten minutes" not in said
        assert "his own dogs" not in said


def test_a_mentor_who_is_an_educator_too_does_not_read_what_is_said_of_them(cast, mentored):
    Membership.objects.filter(pk=cast.mentor.pk).update(educator=True)
    row = makers.make_session(cast.mentor, cast.trainee).trainees.get()
    SessionTrainee.objects.filter(pk=row.pk).update(own_mentor="Showed his own dogs.", own_at=timezone.now())
    for address in ("mentoring/", f"mentoring/trainees/{cast.trainee.pk}/"):
        assert "his own dogs" not in page(cast, "mentor", address)
        assert "his own dogs" in page(cast, "educator", address)


def test_a_word_waits_until_the_session_was_held_and_belongs_to_its_trainee(cast, mentored):
    row = makers.make_session(cast.mentor, cast.trainee, held_on=None).trainees.get()
    assert cast.client("trainee").get(f"{CLUB}/record/sessions/{row.pk}/").status_code == 404
    other = makers.make_session(cast.mentor, makers.make_trainee(cast.club, "Ailie Tulloch")).trainees.get()
    assert cast.client("trainee").get(f"{CLUB}/record/sessions/{other.pk}/").status_code == 404


def test_the_club_s_rules_say_how_many_and_the_pages_count(cast, mentored):
    long_ago = TODAY - datetime.timedelta(days=400)
    makers.make_session(cast.mentor, cast.trainee, held_on=long_ago, planned_for=long_ago)
    makers.make_session(cast.mentor, cast.trainee, ending="needs more")
    MentoringRules.objects.create(club=cast.club, effective_from=TODAY, sessions=2, ready=1, months=13)
    own = page(cast, "trainee", "record/mentoring/")
    assert "All that the club asks of sessions is there." in own
    assert "<dt>ended ready, of 1 asked</dt><dd>1</dd>" in own
    assert "<dd>13</dd>" in own


def test_a_module_or_a_quiz_is_signed_off_and_taken_back_on_record(cast, mentored):
    edition = makers.make_edition(cast.club)
    module = makers.make_module(edition)
    address = f"trainees/{cast.trainee.pk}/sign-off/"
    sent = {"module": module.pk, "on": TODAY, "words": "Every clause of it, beside the dog."}
    assert send(cast, "mentor", address, **sent).status_code == 302
    signed = SignOff.objects.get()
    assert (signed.of, signed.mentor) == (module, cast.mentor)
    assert "Every clause of it, beside the dog." in page(cast, "trainee", "record/mentoring/")
    assert "Magnus Flett signed off Forequarters." in page(cast, "trainee", "record/")
    assert "Select a valid choice" in send(cast, "mentor", address, **sent).content.decode()
    back = f"sign-offs/{signed.pk}/take-back/"
    assert send(cast, "mentor", back, reason="").status_code == 422
    assert send(cast, "mentor", back, reason="The wrong trainee.").status_code == 302
    own = page(cast, "trainee", "record/mentoring/")
    assert "Taken back by Magnus Flett on" in own
    assert "The wrong trainee." in own
    assert send(cast, "mentor", address, **sent).status_code == 302


@pytest.mark.parametrize(
    ("sent", "error"),
    [
        ({}, "Choose a module or a quiz, one of the two."),
        ({"words": ""}, "required"),
        ({"on": TODAY + datetime.timedelta(days=2)}, "not dated ahead"),
    ],
)
def test_a_sign_off_that_lacks_something_is_refused(cast, mentored, sent, error):
    response = send(
        cast, "mentor", f"trainees/{cast.trainee.pk}/sign-off/", **({"on": TODAY, "words": "w"} | sent)
    )
    assert response.status_code == 422
    assert error in response.content.decode()


@pytest.mark.parametrize(
    ("sent", "error"),
    [
        ({"ready": 4}, "No more can end ready than sessions are asked for."),
        ({"panel_of": 3, "panel_needed": 4}, "no more than sit on the panel"),
        ({"panel_of": 3, "panel_needed": 0}, "At least one"),
        ({"panel_needed": 2}, "Without a panel nobody has to say pass"),
        ({"club_mark": 101}, "less than or equal to 100"),
    ],
)
def test_rules_that_cannot_be_are_refused(cast, sent, error):
    given = {"effective_from": TODAY, "sessions": 3, "ready": 2, "months": 12, "panel_of": 0,
             "panel_needed": 0, "club_mark": "", "near": 5}  # fmt: skip
    response = send(cast, "educator", "mentoring/rules/", **(given | sent))
    assert response.status_code == 422
    assert error in response.content.decode()
    assert send(cast, "educator", "mentoring/rules/", **given).status_code == 302
    assert MentoringRules.objects.get().made_by == cast.educator


def test_the_pages_cost_the_same_for_one_and_for_three(cast, mentored):
    clients = {who: cast.client(who) for who in ("educator", "mentor", "trainee")}
    pages = [("educator", "mentoring/"), ("educator", f"mentoring/trainees/{cast.trainee.pk}/"),
             ("mentor", f"trainees/{cast.trainee.pk}/mentoring/"), ("mentor", "sessions/"),
             ("trainee", "record/mentoring/")]  # fmt: skip
    costs = []
    for turn in range(2):
        for n in range(1 + 2 * turn):
            other = makers.make_trainee(cast.club, f"Trainee {turn} {n}")
            makers.make_mentorship(cast.mentor, other)
            makers.make_session(cast.mentor, cast.trainee, other)
            makers.make_session(cast.mentor, cast.trainee, other, held_on=None)
        found = []
        for who, address in pages:
            with CaptureQueriesContext(connection) as captured:
                assert clients[who].get(f"{CLUB}/{address}").status_code == 200
            found.append(len(captured))
        costs.append(found)
    assert costs[0] == costs[1]
    assert max(costs[0]) < 12
