"""A club in which a trainee and a mentor have left traces in every table that can hold one."""

from __future__ import annotations

import datetime
import uuid
from dataclasses import dataclass
from decimal import Decimal

from allauth.account.models import EmailAddress
from allauth.mfa.models import Authenticator
from django.contrib.admin.models import CHANGE, LogEntry
from django.utils import timezone

from assessments.actions.by_hand import mark_by_hand
from assessments.actions.cut import close_cut_study, give_estimates, keep_estimates
from assessments.actions.key_panels import close_panel
from assessments.actions.mentoring import say_own_word, set_mentoring_rules
from assessments.actions.paper_results import end_paper, release_results
from assessments.actions.reviews import adjust_mark, ask_query, pin_comment, return_answer
from assessments.actions.second import ask_second_marking, give_second_mark, settle_second_marking
from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.models import Answer, Candidate, Quiz, SecondMarking
from courses.actions.study import note_reading
from shared.accounts.models import ErasureRequest, Membership, Person
from tests import makers
from tests.conftest import Cast
from tests.makers import papers

# Each stands in one place that somebody wrote: none may be anywhere once the trainee is erased.
THEIRS = "pinnotings critiquings querying owningly mentorwise latelings"
ABOUT_THEM = (
    "rubricword overallish commently adjustable replying secondish whyever settledly sessionly "
    "signingly panelish"
)


@dataclass
class Scene:
    """The club's first quiz, the paper, and the second mentor beside the cast."""

    quiz: Quiz
    other_mentor: Membership
    candidate: Candidate


def make_scene(cast: Cast) -> Scene:
    """Una answers, is marked, disputes, is mentored and examined; Magnus does for her and others what a mentor does."""
    edition = makers.make_edition(cast.club)
    other = makers.make_mentor(cast.club, "Thora Garrioch")
    makers.make_mentorship(cast.mentor, cast.trainee)
    quiz = makers.make_open_quiz(edition, cast.educator, items=2)
    _answer_and_dispute(cast, quiz, other)
    _others_answer(quiz)
    _write_a_critique(cast, edition)
    _be_mentored(cast, quiz, other)
    _serve_on_panels(cast, quiz, other)
    makers.make_invitation(
        cast.club,
        accepted_by=cast.trainee.person,
        accepted_at=timezone.now(),
        email=cast.trainee.person.email,
    )
    place = makers.make_module(edition, "Text").places.first()
    note_reading(person=cast.trainee.person, place=place)
    ErasureRequest.objects.create(membership=cast.trainee)
    _sign_in_with_a_second_factor(cast.trainee.person)
    return Scene(quiz, other, _sit_a_paper(cast, edition))


def _sign_in_with_a_second_factor(person: Person) -> None:
    EmailAddress.objects.create(user=person, email=person.email, verified=True, primary=True)
    Authenticator.objects.create(user=person, type=Authenticator.Type.TOTP, data={"secret": "halcro"})
    LogEntry.objects.log_actions(person.pk, [person], CHANGE, "Renamed.", single_object=True)


def _answer_and_dispute(cast: Cast, quiz: Quiz, other: Membership) -> None:
    sitting = begin_sitting(quiz=quiz, trainee=cast.trainee)
    first, last = sitting.answers.all()
    for answer in (first, last):
        sent = makers.said(makers.pin(0.35, 0.45) | {"note": "pinnotings"})
        save_answer(answer=answer, sent=sent, seen=0, identity=uuid.uuid4())
        answer.refresh_from_db()
        hand_in(answer=answer, seen=answer.revision)
    first = Answer.objects.select_related("sitting__quiz", "sitting__trainee").get(pk=first.pk)
    pin_comment(answer=first, author=cast.mentor, text="commently", x=0.5, y=0.5)
    adjust_mark(answer=first, mentor=cast.mentor, what="Weighing", points=Decimal(5), reason="adjustable")
    return_answer(answer=first, mentor=cast.mentor)
    ask_query(answer=first, text="querying, says Una Halcro")
    return_answer(answer=Answer.objects.get(pk=first.pk), mentor=cast.mentor, upheld=True, reply="replying")
    marking = ask_second_marking(answer=first, second=other, by=cast.educator, why="whyever")
    give_second_mark(marking=marking, points=Decimal(60), words="secondish")
    settle_second_marking(
        marking=SecondMarking.objects.get(pk=marking.pk),
        by=cast.educator,
        stands="second",
        points=None,
        reason="settledly",
    )


def _others_answer(quiz: Quiz) -> None:
    """Enough people for figures, unlike one another, and Magnus says something of one of them."""
    pins = [makers.pin(0.35, 0.45), makers.pin(0.65, 0.33), makers.pin(0.9, 0.9)]
    contents = [[makers.said(*pins[: n % 4]), makers.said(*pins[n % 3 :])] for n in range(11)]
    makers.make_sittings(quiz, contents)


def _write_a_critique(cast: Cast, edition) -> None:
    written = makers.make_written(
        cast.trainee, makers.make_critique(edition, cast.educator), virtues="critiquings by Una Halcro"
    )
    rubric = makers.given() | {"overall": "overallish"}
    rubric["words"]["accuracy"] = "rubricword"
    mark_by_hand(answer=written, mentor=cast.mentor, given=rubric)
    return_answer(answer=Answer.objects.get(pk=written.pk), mentor=cast.mentor)


def _be_mentored(cast: Cast, quiz: Quiz, other: Membership) -> None:
    session = makers.make_session(cast.mentor, cast.trainee, reason="sessionly", subject="With Una Halcro")
    say_own_word(row=session.trainees.get(), own_session="owningly", own_mentor="mentorwise Magnus Flett")
    signed = makers.make_sign_off(cast.trainee, cast.mentor, quiz)
    signed.words = "signingly"
    signed.save()
    panel = makers.make_panel(cast.trainee.sittings.get(quiz=quiz), cast.mentor, cast.educator)
    makers.make_told(panel, cast.educator)
    panel.words.update(text="panelish")
    elsewhere = makers.make_trainee(cast.club, "Osla Mouat")
    makers.make_mentorship(cast.mentor, elsewhere)
    answer = makers.make_handed_in(begin_sitting(quiz=quiz, trainee=elsewhere).answers.first())
    pin_comment(answer=answer, author=cast.mentor, text="Ask Magnus Flett.", x=None, y=None)
    return_answer(answer=answer, mentor=cast.mentor)
    ask_second_marking(answer=answer, second=other, by=cast.mentor, why="As Magnus Flett said.")
    give_second_mark(marking=answer.second_markings.get(), points=Decimal(10), words="Little is seen.")
    set_mentoring_rules(club=cast.club, by=cast.educator, effective_from=timezone.localdate())


def _serve_on_panels(cast: Cast, quiz: Quiz, other: Membership) -> None:
    item = quiz.items.first()
    panel = makers.make_key_panel(item, cast.educator, cast.mentor, other)
    for member in (cast.mentor, other):
        makers.make_marking(panel, member)
    close_panel(panel=panel, by=cast.educator)
    study = makers.make_cut_study(quiz, cast.educator, cast.mentor, other)
    for seat in study.panellists.all():
        keep_estimates(panellist=seat, estimates=dict.fromkeys(study.items, 60))
        give_estimates(panellist=seat)
    close_cut_study(study=study, by=cast.educator.person)


def _sit_a_paper(cast: Cast, edition) -> Candidate:
    papers.make_bank(edition, cast.educator)
    paper = papers.make_set_paper(edition, cast.educator)
    candidate = papers.make_candidate(paper, cast.trainee, cast.educator, number=987, extra_minutes=20)
    sitting = papers.make_paper_sitting(candidate, right_ones=2)
    sitting.settled_note = "latelings"
    sitting.save()
    end_paper(paper=paper)
    later = timezone.now() + datetime.timedelta(seconds=1)
    release_results(paper=paper, by=cast.educator.person, now=later)
    return Candidate.objects.get(pk=candidate.pk)
