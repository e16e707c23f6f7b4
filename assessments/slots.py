"""What assessments put into the slots of other apps' pages."""

from __future__ import annotations

from collections.abc import Sequence

from django.http import HttpRequest
from django.utils.translation import gettext as _

from assessments.models import Quiz
from assessments.queries.keeping import keeping_rules_of
from assessments.queries.mentorships import mentorships_of
from assessments.queries.quizzes import quizzes_asking_about, quizzes_of, quizzes_without_place
from assessments.queries.sittings import with_own_progress
from courses.models import Exhibit, Place
from shared.accounts.models import Membership
from shared.accounts.permissions import Ability, may
from shared.web.limits import PAGE_LENGTH
from shared.web.slots import Context, fills


@fills("member", "assessments/mentorship/_mentors.html")
def mentors(request: HttpRequest, members: Sequence[Membership]) -> dict[Membership, Context]:
    """A trainee's mentors, with the way to assign one."""
    trainees = [member for member in members if member.trainee]
    found = mentorships_of(trainees)
    return {
        trainee: {"title": _("Mentors"), "trainee": trainee, "mentorships": found[trainee.pk]}
        for trainee in trainees
    }


@fills("former member", "assessments/record/_former.html")
def records(request: HttpRequest, members: Sequence[Membership]) -> dict[Membership, Context]:
    """The way to hand over the record of a trainee who left."""
    return {member: {"trainee": member} for member in members if member.trainee}


@fills("own club", "assessments/keeping/_own.html")
def keeping_of_clubs(request: HttpRequest, memberships: Sequence[Membership]) -> dict[Membership, Context]:
    """How long each of a person's clubs keeps their answers, on their own page."""
    found = keeping_rules_of([membership.club_id for membership in memberships])
    return {
        membership: {"club": membership.club, "rules": found.get(membership.club_id)}
        for membership in memberships
    }


@fills("quiz place", "assessments/_quiz_place.html")
def quiz_of_place(request: HttpRequest, places: Sequence[Place]) -> dict[Place, Context]:
    """The quiz of a module's place, with how far the reader is; for an educator the way to make it."""
    edits = may(request.membership, Ability.EDIT_QUIZZES)
    found = with_own_progress(quizzes_of(request.club).filter(place__in=places), request.membership)
    if not edits:
        found = found.exclude(state=Quiz.State.DRAFT)
    quizzes = {quiz.place_id: quiz for quiz in found}
    wanting = [place for place in places if edits and place.pk not in quizzes]
    free = list(quizzes_without_place(request.club)[:PAGE_LENGTH]) if wanting else []
    filled = {
        place: {"place": place, "quiz": quizzes[place.pk], "edits": edits}
        for place in places
        if place.pk in quizzes
    }
    return filled | {place: {"place": place, "free": _fitting(free, place)} for place in wanting}


@fills("exhibit uses", "assessments/_exhibit_uses.html")
def quizzes_with_exhibit(request: HttpRequest, exhibits: Sequence[Exhibit]) -> dict[Exhibit, Context]:
    """The quizzes that ask about an exhibit, and how many are answering them now."""
    found = quizzes_asking_about(exhibits)
    edits = may(request.membership, Ability.EDIT_QUIZZES)
    return {
        exhibit: {"quizzes": found[exhibit.pk], "edits": edits} for exhibit in exhibits if found[exhibit.pk]
    }


def _fitting(quizzes: list[Quiz], place: Place) -> list[Quiz]:
    """Those of the place's own edition."""
    return [quiz for quiz in quizzes if quiz.edition_id == place.module.course.edition_id]
