"""Marks that a mentor gives, where an item's kind is marked by a person."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from assessments.actions.changes import Kind, record_change
from assessments.actions.marking import keep_marks, key_in_use
from assessments.actions.reviews import withdraw_adjustment
from assessments.actions.second import refuse_while_compared
from assessments.items import kind_of
from assessments.models import Answer, Mark
from assessments.rules import Refused, standing_points
from shared.accounts.models import Membership


@transaction.atomic
def mark_by_hand(*, answer: Answer, mentor: Membership, given: dict[str, Any]) -> Mark:
    """The mark that a mentor gives by the key in use, on record with their name; `given` is in the kind's shape.

    Given again, by the same or another mentor, the mark before stays on record; an adjustment to it does not
    carry over. Refused before the answer is handed in, and while two markings of it are compared.
    """
    held = (
        Answer.objects.select_for_update(of=("self",))
        .select_related("item", "sitting__quiz")
        .get(pk=answer.pk)
    )
    if not held.handed_in_at:
        raise Refused(_("This answer is not handed in yet."))
    refuse_while_compared(held)
    key, rules = key_in_use(held.item), held.sitting.quiz.rules_versions.first()
    before = Mark.objects.filter(answer=held, current=True).first()
    adjustment = withdraw_adjustment(answer=held)
    result = kind_of(held.item).mark_given(key, given | {"by": mentor.pk})
    mark = keep_marks(item=held.item, key=key, rules=rules, answers=[held], results=[result])[0]
    record_change(
        kind=Kind.BY_HAND,
        answer=held,
        by=mentor,
        before=before and standing_points(before, adjustment),
        after=standing_points(mark, None),
        words=_("Key version %(key)d.") % {"key": key.version},
    )
    return mark
