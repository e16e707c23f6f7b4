"""Work in the background: marking anew, and figures of many answers."""

from __future__ import annotations

from django_tasks import task

from assessments.models import Item, Quiz


@task()
def remark_item(item_id: int) -> int:
    """Mark an item's answers anew after its key changed; returns how many were marked."""
    from assessments.actions.marking import remark

    return remark(item=Item.objects.get(pk=item_id)).answers


@task()
def remark_quiz(quiz_id: int) -> int:
    """Mark a quiz's answers anew after its rules changed; returns how many were marked."""
    from assessments.actions.marking import remark

    items = Item.objects.filter(answers__sitting__quiz=quiz_id).distinct()
    return sum(remark(item=item, quiz_id=quiz_id).answers for item in items)


@task()
def work_out_figures(quiz_ids: list[int]) -> int:
    """Work out what the figures of these quizzes have not seen yet; returns how many lagged behind."""
    from assessments.actions.figures import lags_behind, work_out
    from assessments.queries.evidence import with_people

    behind = [quiz for quiz in with_people(Quiz.objects.filter(pk__in=quiz_ids)) if lags_behind(quiz)]
    for quiz in behind:
        work_out(quizzes=[quiz])
    return len(behind)


@task()
def work_out_facilities(ids: list[int]) -> int:
    """Work out how hard these items are; returns how many there were."""
    from assessments.actions.facility import work_out

    return work_out(facilities=ids)
