"""When the regulations came into force, and what of a paper the clock dated."""

from __future__ import annotations

from assessments.models import Answer, Mark, MarkChange, Notice, Paper, Regulations, SavedStep
from media_demo.dates.calendar import FOUNDED, MINUTE, Calendar
from media_demo.dates.rows import set_times, write_times


def date_regulations(regulations: Regulations, calendar: Calendar) -> int:
    """In force since soon after the club was founded."""
    regulations.made_at = calendar.evening(FOUNDED - 20)
    regulations.effective_from = regulations.made_at.date()
    return write_times([regulations], "made_at", "effective_from")


def date_paper(paper: Paper) -> int:
    """What the actions dated by the clock: saves and marks of a paper, invitations, and news of its results."""
    answers = list(Answer.objects.filter(sitting__quiz=paper.quiz_id).select_related("sitting"))
    for answer in answers:
        answer.saved_at = answer.sitting.begun_at + 2 * (answer.position + 1) * MINUTE
    at = {answer.pk: (answer.saved_at, answer.handed_in_at) for answer in answers}
    steps = list(SavedStep.objects.filter(answer__in=at))
    marks = list(Mark.objects.filter(answer__in=at).only("answer_id", "marked_at"))
    changes = list(MarkChange.objects.filter(answer__in=at).only("answer_id", "at"))
    candidates = list(paper.candidates.all())
    paper.refresh_from_db()
    members = [candidate.member_id for candidate in candidates]
    newest = Notice.objects.filter(member__in=members, answer=None, made_at__gt=paper.released_at)
    return (
        write_times(answers, "saved_at")
        + set_times(steps, [at[step.answer_id][0] for step in steps], "saved_at")
        + set_times(marks, [at[mark.answer_id][1] for mark in marks], "marked_at")
        + set_times(changes, [at[change.answer_id][1] for change in changes], "at")
        + set_times(candidates, [paper.set_at + 10 * MINUTE for _ in candidates], "invited_at")
        + newest.update(made_at=paper.released_at)
        + Paper.objects.filter(pk=paper.pk).update(drawn_at=paper.set_at - 30 * MINUTE)
    )
