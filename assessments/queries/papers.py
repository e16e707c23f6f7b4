"""Reads about examination papers: those of a club, their candidates and sittings, the regulations in force."""

from __future__ import annotations

import datetime

from django.db.models import Count, Exists, F, OuterRef, Prefetch, Q, QuerySet
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments.models import Answer, Candidate, Paper, PaperResult, PaperSitting, Regulations
from courses.models import Breed
from shared.accounts.models import Club, Membership

RESULTS = Prefetch("sitting__results", PaperResult.objects.order_by("-pk"), to_attr="released")


def papers_of(club: Club) -> QuerySet[Paper]:
    """The club's papers, the newest first, with how many candidates there are, sat, and are sitting now."""
    return (
        Paper.objects.filter(quiz__edition__breed__club=club)
        .select_related("quiz__edition__breed__club")
        .annotate(
            candidates_count=Count("candidates", distinct=True),
            begun_count=Count("candidates__sitting", distinct=True),
            handed_in_count=Count(
                "candidates__sitting",
                filter=~Q(candidates__sitting__sitting__finished_at=None),
                distinct=True,
            ),
        )
        .order_by("-pk")
    )


def regulations_on(club: Club, day: datetime.date) -> Regulations | None:
    """The version in force on a day: the one that came into force last, as it was last laid down."""
    return club.regulations.filter(effective_from__lte=day).first()


def candidatures_of(member: Membership) -> QuerySet[Candidate]:
    """A member's own papers once they are set, with the sitting and what was released; the newest first."""
    return (
        Candidate.objects.filter(member=member)
        .exclude(paper__set_at=None)
        .select_related("paper__quiz__edition__breed__club", "sitting__sitting", "sitting__regulations")
        .prefetch_related(RESULTS)
        .order_by("-paper__opens_at", "-pk")
    )


def candidates_of(paper: Paper) -> QuerySet[Candidate]:
    """A paper's candidates by name, with member and sitting at hand: for the stewards' page alone."""
    return (
        paper.candidates.select_related(
            "member__person",
            "paper__quiz__edition__breed__club",
            "sitting__sitting",
            "sitting__regulations",
        )
        .prefetch_related("sitting__typed_by__person")
        .order_by("member__person__name", "pk")
    )


def sittings_of(paper: Paper) -> QuerySet[PaperSitting]:
    """Begun sittings of a paper by candidates' numbers, with how many of their answers say something.

    Items that were passed over, since their picture may no longer be shown, are left out of the counts.
    """
    counts = Q(sitting__answers__passed_over_at=None)
    return (
        PaperSitting.objects.filter(candidate__paper=paper)
        .select_related("sitting", "candidate", "regulations")
        .annotate(
            answers_count=Count("sitting__answers", filter=counts, distinct=True),
            saved_count=Count(
                "sitting__answers", filter=counts & Q(sitting__answers__revision__gt=0), distinct=True
            ),
            unmarked_count=Count(
                "sitting__answers",
                filter=~Q(sitting__answers__handed_in_at=None) & ~Q(sitting__answers__marks__current=True),
                distinct=True,
            ),
            late_count=Count("sitting__answers__late", distinct=True),
        )
        .order_by("candidate__number")
    )


def answers_of_paper(sitting: PaperSitting) -> QuerySet[Answer]:
    """Its answers in the candidate's order, with what a page of one needs."""
    return (
        Answer.objects.filter(sitting=sitting.sitting_id)
        .select_related("item__exhibit", "item__clause", "item__edition__breed", "sitting__quiz")
        .prefetch_related("item__exhibit__renditions", "item__exhibit__permissions")
        .order_by("position", "pk")
    )


def earlier_attempts(member: Membership, breed: Breed) -> QuerySet[PaperSitting]:
    """The member's sittings of papers on this breed, the last begun first.

    One of which every item was passed over, its picture withdrawn, was no attempt.
    """
    counting = Answer.objects.filter(sitting=OuterRef("sitting"), passed_over_at=None)
    return (
        PaperSitting.objects.filter(candidate__member=member, sitting__quiz__edition__breed=breed)
        .filter(Exists(counting))
        .select_related("sitting__quiz")
        .order_by(F("sitting__begun_at").desc(), "-pk")
    )


def refusal_to_sit(candidate: Candidate, regulations: Regulations, day: datetime.date) -> str | None:
    """Why the regulations do not let this candidate sit on the day, in words; None if they do."""
    quiz = candidate.paper.quiz
    before = earlier_attempts(candidate.member, quiz.edition.breed).exclude(candidate=candidate)
    used = before.count()
    if regulations.attempts and used >= regulations.attempts:
        words = ngettext(
            "The regulations allow one attempt, and it has been made.",
            "The regulations allow %(n)d attempts, and they have been made.",
            regulations.attempts,
        )
        return words % {"n": regulations.attempts}
    last = before.first()
    if last is not None and regulations.wait_days:
        free = timezone.localdate(last.sitting.begun_at) + datetime.timedelta(days=regulations.wait_days)
        if day < free:
            words = _("The regulations ask for %(n)d days between attempts: from %(day)s on.")
            return words % {"n": regulations.wait_days, "day": date_format(free, "j F Y")}
    return None
