"""Figures of quizzes: worked out when something changed and somebody looks, and kept."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from django.utils import timezone

from assessments.evidence import FEWEST
from assessments.evidence.paper import PaperFigures, paper_figures
from assessments.models import Figures, Quiz
from assessments.queries.evidence import first_scores
from assessments.tasks import work_out_figures

# So many scores are read while a page waits; more are left to the background.
AT_ONCE = 15_000
# A worker takes up its work within seconds; after this it is asked again.
PATIENCE = timedelta(minutes=2)


def bring_up_to_date(*, quizzes: Sequence[Quiz]) -> None:
    """Work out what lags behind, as far as a page can wait; the rest is asked of the background.

    The quizzes come from `quizzes_with_answers`; afterwards `quiz.figures` is as kept.
    """
    behind = [quiz for quiz in quizzes if (quiz.people or 0) >= FEWEST and lags_behind(quiz)]
    now, later, room = [], [], AT_ONCE
    for quiz in sorted(behind, key=_size):
        room -= _size(quiz)
        (now if room >= 0 else later).append(quiz)
    if now:
        work_out(quizzes=now)
    _ask_for(later)


def lags_behind(quiz: Quiz) -> bool:
    """Whether there is something that its figures have not seen. A quiz without any mark has none."""
    kept = getattr(quiz, "figures", None)
    return kept is not None and (not kept.fresh or kept.data.get("of") != _of(quiz))


def work_out(*, quizzes: Sequence[Quiz]) -> None:
    """Figures of these quizzes from all their first scores, kept together with what they had seen."""
    scores: dict[int, list[tuple[int, int, float]]] = {quiz.pk: [] for quiz in quizzes}
    kept = [quiz.figures for quiz in quizzes]
    for quiz, person, item, score in first_scores(scores):
        scores[quiz].append((person, item, score))
    for quiz in quizzes:
        figures = quiz.figures
        figures.data = {"of": _of(quiz), **paper_figures(scores[quiz.pk]).to_data()}
        figures.counted, figures.computed_at = figures.changes, timezone.now()
    Figures.objects.bulk_update(kept, ["data", "counted", "computed_at"])


def figures_of(quiz: Quiz) -> PaperFigures | None:
    """What is kept, or None before anything was worked out."""
    kept = getattr(quiz, "figures", None)
    if kept is None or not kept.data:
        return None
    return PaperFigures.from_data({name: value for name, value in kept.data.items() if name != "of"})


def _of(quiz: Quiz) -> list[int | None]:
    """By which a change of the quiz's items is told."""
    return [quiz.items_count, quiz.newest_item]


def _size(quiz: Quiz) -> int:
    return (quiz.people or 0) * (quiz.items_count or 0)


def _ask_for(quizzes: Sequence[Quiz]) -> None:
    now = timezone.now()
    waiting = [
        quiz.figures
        for quiz in quizzes
        if quiz.figures.asked_at is None or now - quiz.figures.asked_at > PATIENCE
    ]
    if waiting:
        Figures.objects.filter(pk__in=[kept.pk for kept in waiting]).update(asked_at=now)
        work_out_figures.enqueue([kept.quiz_id for kept in waiting])
