"""What assessments put on the day's page."""

from __future__ import annotations

from django.http import HttpRequest
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments.models import Quiz
from assessments.queries.answers import waiting_for
from assessments.queries.mentorships import running_mentorships, trainees_without_mentor
from assessments.queries.quizzes import quizzes_of
from assessments.queries.sittings import with_own_progress
from shared.accounts.roles import Role
from shared.web.home import ROWS, Part, Waiting, empty, part, waiting


@part(roles={Role.TRAINEE}, order=120)
def quizzes_to_answer(request: HttpRequest) -> Part:
    """Open quizzes, those begun first."""
    found = quizzes_of(request.club).filter(state=Quiz.State.OPEN)
    rows = list(
        with_own_progress(found, request.membership).order_by("-begun", "last_finished", "title")[:ROWS]
    )
    if not rows:
        words = _("Quizzes that the club opens will be here.")
        return empty(_("Quizzes"), words, reverse("quizzes", args=[request.club.slug]), _("See all quizzes"))
    return Part("assessments/home/_quizzes.html", {"quizzes": rows})


@part(roles={Role.TRAINEE}, order=130, column="side")
def what_was_said(request: HttpRequest) -> Part:
    """What mentors and changed keys have made of one's answers lately."""
    notices = list(request.membership.notices.select_related("answer")[:ROWS])
    if notices:
        return Part("assessments/home/_notices.html", {"notices": notices})
    mentorship = running_mentorships().filter(trainee=request.membership).first()
    if mentorship:
        words = _("When %(name)s has looked at an answer, what they say will be here, pinned to the picture.")
        return empty(_("Your mentor"), words % {"name": mentorship.mentor.person.name})
    words = _("When a mentor has looked at an answer, what they say will be here. The secretary assigns one.")
    return empty(_("Your mentor"), words)


@waiting(roles={Role.MENTOR}, order=310)
def answers_to_review(request: HttpRequest) -> list[Waiting]:
    """Queries one by one, then the rest of the queue in one line."""
    queue = waiting_for(request.membership)
    asked = list(queue.filter(asks=True)[:ROWS])
    others = queue.filter(asks=False).count()
    slug = request.club.slug
    things = [
        Waiting(
            what=_("%(name)s asks you to look again.") % {"name": answer.sitting.trainee.person.name},
            detail=answer.query.text,
            url=reverse("review", args=[slug, answer.pk]),
            verb=_("Open the answer"),
        )
        for answer in asked
    ]
    if others:
        words = ngettext("An answer waits for you.", "%(n)d answers wait for you.", others)
        detail = _("The oldest comes first.")
        things.append(Waiting(words % {"n": others}, detail, reverse("reviews", args=[slug]), _("Begin")))
    return things


@waiting(roles={Role.SECRETARY}, order=405)
def nobody_looks(request: HttpRequest) -> list[Waiting]:
    """Trainees at whose answers nobody looks, since no mentor is assigned."""
    without = trainees_without_mentor(request.club)
    first = without.first()
    if first is None:
        return []
    count = without.count()
    what = ngettext("%(name)s has no mentor.", "%(n)s trainees have no mentor.", count)
    return [
        Waiting(
            what=what % {"n": count, "name": first.person},
            detail=_("Nobody looks at what they answer until one is assigned."),
            url=reverse("mentorship", args=[request.club.slug, first.pk])
            if count == 1
            else f"{reverse('members', args=[request.club.slug])}?role=trainee",
            verb=_("Assign a mentor") if count == 1 else _("See whom"),
        )
    ]
