"""Work in the background: marking anew."""

from __future__ import annotations

from django_tasks import task

from assessments.models import Item


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
