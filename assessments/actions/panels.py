"""A panel decides about a sitting: asked, each assessor alone, counted, told in the panel's name."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments.actions.changes import Kind, record_change
from assessments.models import Answer, AssessorPanel, Notice, PanelSeat, PanelWord, SeatReason, Sitting
from assessments.queries.mentoring_rules import mentoring_rules
from assessments.rules import Refused, panel_passes
from courses.models import Clause
from shared.accounts.models import Membership

# A name is looked for by its words of at least so many letters.
NAME_LETTERS = 3


@dataclass(frozen=True)
class Reason:
    """Words tied to a clause, an answer of the sitting, or both."""

    text: str
    clause: Clause | None = None
    answer: Answer | None = None


@transaction.atomic
def ask_assessors(*, sitting: Sitting, assessors: Sequence[Membership], by: Membership) -> AssessorPanel:
    """Ask so many mentors as the club's rules in force want, each to decide alone about a finished sitting."""
    Sitting.objects.select_for_update().get(pk=sitting.pk)
    rules = mentoring_rules(by.club)
    if not rules.panel_of:
        raise Refused(_("The club asks for no panel. Its mentoring rules say how many assessors one has."))
    if sitting.finished_at is None:
        raise Refused(_("The sitting is not finished."))
    if len({member.pk for member in assessors}) != rules.panel_of:
        raise Refused(_("A panel of this club has %(n)d assessors.") % {"n": rules.panel_of})
    for member in assessors:
        _refuse_assessor(sitting, member)
    if sitting.panels.filter(withdrawn_at=None).exists():
        raise Refused(_("A panel looks at this sitting already."))
    panel = AssessorPanel.objects.create(
        sitting=sitting, asked_by=by, of=rules.panel_of, needed=rules.panel_needed
    )
    PanelSeat.objects.bulk_create(PanelSeat(panel=panel, assessor=member) for member in assessors)
    words = ", ".join(str(member.person) for member in assessors)
    record_change(kind=Kind.PANEL_ASKED, sitting=sitting, by=by, words=words)
    return panel


def _refuse_assessor(sitting: Sitting, member: Membership) -> None:
    if not member.mentor or member.left_at or member.club_id != sitting.trainee.club_id:
        raise Refused(_("An assessor is a mentor of the club."))
    if member.pk == sitting.trainee_id:
        raise Refused(_("Nobody sits on the panel about themselves."))


@transaction.atomic
def decide(*, seat: PanelSeat, passes: bool, reasons: Sequence[Reason]) -> AssessorPanel:
    """One assessor's decision with its reasons, once; the last one decides the panel by count."""
    panel = _hold(seat.panel)
    held = panel.seats.select_for_update().select_related("assessor").get(pk=seat.pk)
    if held.decided_at:
        raise Refused(_("You have decided."))
    _refuse_loose(panel, reasons)
    held.passes, held.decided_at = passes, timezone.now()
    held.save(update_fields=["passes", "decided_at"])
    SeatReason.objects.bulk_create(
        SeatReason(seat=held, position=place, text=each.text, clause=each.clause, answer=each.answer)
        for place, each in enumerate(reasons)
    )
    decisions = list(panel.seats.values_list("passes", flat=True))
    if None not in decisions:
        panel.passed = panel_passes(sum(decisions), panel.needed)
        panel.decided_at = timezone.now()
        panel.save(update_fields=["passed", "decided_at"])
        words = _("%(n)d of %(of)d said pass, %(needed)d had to.")
        numbers = {"n": sum(decisions), "of": panel.of, "needed": panel.needed}
        record_change(kind=Kind.PANEL_DECIDED, sitting=panel.sitting, words=words % numbers)
    return panel


@transaction.atomic
def replace_assessor(*, seat: PanelSeat, assessor: Membership, by: Membership) -> None:
    """Somebody else takes a seat on which nothing was decided yet."""
    panel = _hold(seat.panel)
    held = panel.seats.select_for_update().select_related("assessor__person").get(pk=seat.pk)
    if held.decided_at:
        raise Refused(_("%(name)s has decided.") % {"name": held.assessor.person})
    _refuse_assessor(panel.sitting, assessor)
    if panel.seats.filter(assessor=assessor).exists():
        raise Refused(_("%(name)s sits on this panel.") % {"name": assessor.person})
    names = {"old": held.assessor.person, "new": assessor.person}
    held.assessor = assessor
    held.save(update_fields=["assessor"])
    words = _("%(new)s sits in place of %(old)s.") % names
    record_change(kind=Kind.PANEL_CHANGED, sitting=panel.sitting, by=by, words=words)


@transaction.atomic
def withdraw_panel(*, panel: AssessorPanel, by: Membership) -> None:
    """Do without the panel, while it has not decided; what its assessors said stays on record."""
    held = _hold(panel)
    if held.decided_at:
        raise Refused(_("The panel has decided."))
    held.withdrawn_at = timezone.now()
    held.save(update_fields=["withdrawn_at"])
    record_change(kind=Kind.PANEL_CHANGED, sitting=held.sitting, by=by, words=_("The panel was withdrawn."))


@transaction.atomic
def tell_trainee(*, panel: AssessorPanel, words: Sequence[Reason], by: Membership) -> AssessorPanel:
    """Give the trainee the decision with the panel's words, once. They name no assessor."""
    held = _hold(panel)
    if held.decided_at is None:
        raise Refused(_("The panel has not decided yet."))
    if held.told_at:
        raise Refused(_("The trainee was told."))
    _refuse_loose(held, words)
    named = names_in([each.text for each in words], held)
    if named:
        raise Refused(_("The panel speaks as one: leave out %(names)s.") % {"names": ", ".join(named)})
    PanelWord.objects.bulk_create(
        PanelWord(panel=held, position=place, text=each.text, clause=each.clause, answer=each.answer)
        for place, each in enumerate(words)
    )
    held.told_at, held.told_by = timezone.now(), by
    held.save(update_fields=["told_at", "told_by"])
    record_change(kind=Kind.PANEL_TOLD, sitting=held.sitting, by=by)
    told = _("The panel of %(club)s has looked at %(quiz)s. Its words are in your record.")
    names = {"club": by.club.name, "quiz": held.sitting.quiz.title}
    Notice.objects.create(member_id=held.sitting.trainee_id, text=told % names)
    return held


def names_in(texts: Sequence[str], panel: AssessorPanel) -> list[str]:
    """Words of assessors' names that stand in the texts, as whole words with a capital."""
    people = panel.seats.values_list("assessor__person__name", flat=True)
    parts = {part for name in people for part in name.split() if len(part) >= NAME_LETTERS}
    said = {word for text in texts for word in re.findall(r"\w+", text)}
    return sorted(parts & said)


def _refuse_loose(panel: AssessorPanel, reasons: Sequence[Reason]) -> None:
    if not reasons:
        raise Refused(_("Give at least one reason."))
    for each in reasons:
        if each.clause is None and each.answer is None:
            raise Refused(_("Every reason rests on a clause or on an answer."))
        if each.answer is not None and each.answer.sitting_id != panel.sitting_id:
            raise Refused(_("A reason rests on an answer of this sitting."))


def _hold(panel: AssessorPanel) -> AssessorPanel:
    """The row, locked, if the panel was not withdrawn."""
    held = (
        AssessorPanel.objects.select_for_update(of=("self",))
        .select_related("sitting__quiz", "sitting__trainee")
        .get(pk=panel.pk)
    )
    if held.withdrawn_at:
        raise Refused(_("This panel was withdrawn."))
    return held
