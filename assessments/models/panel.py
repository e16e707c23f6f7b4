"""A panel decides about a sitting: each assessor alone, the decision by count, the words by the panel."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments.models.sitting import Answer, Sitting
from courses.models import Clause
from shared.accounts.models import Membership


class AssessorPanel(models.Model):
    """So many assessors, of whom so many must say *pass*, as the club had it when the panel was asked.

    `passed` is set when the last assessor has decided. `told_at` is when the trainee was given the panel's
    words.
    """

    sitting = models.ForeignKey(Sitting, on_delete=models.CASCADE, related_name="panels")
    asked_by = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="+")
    asked_at = models.DateTimeField(default=timezone.now)
    of = models.PositiveSmallIntegerField()
    needed = models.PositiveSmallIntegerField()
    passed = models.BooleanField(null=True, blank=True)
    decided_at = models.DateTimeField(null=True, blank=True)
    told_at = models.DateTimeField(null=True, blank=True)
    told_by = models.ForeignKey(Membership, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        verbose_name = _("panel")
        ordering = ["-pk"]
        constraints = [
            models.UniqueConstraint(
                "sitting", condition=Q(withdrawn_at=None), name="one_standing_panel_per_sitting"
            ),
            models.CheckConstraint(
                name="a_panel_can_pass", condition=Q(needed__gte=1) & Q(needed__lte=F("of"))
            ),
        ]

    def __str__(self) -> str:
        return f"panel on sitting {self.sitting_id}"


class PanelSeat(models.Model):
    """One assessor's own decision."""

    panel = models.ForeignKey(AssessorPanel, on_delete=models.CASCADE, related_name="seats")
    assessor = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="panel_seats")
    passes = models.BooleanField(null=True, blank=True)
    decided_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint("panel", "assessor", name="an_assessor_sits_once_on_a_panel"),
            models.CheckConstraint(
                name="a_decision_has_its_time",
                condition=Q(passes=None, decided_at=None) | Q(passes__isnull=False, decided_at__isnull=False),
            ),
        ]

    def __str__(self) -> str:
        return f"seat {self.pk} on panel {self.panel_id}"


class Evidenced(models.Model):
    """Words about a sitting, tied to a clause, to one of its answers, or to both."""

    position = models.PositiveSmallIntegerField(default=0)
    text = models.TextField(_("what is found"), max_length=1000)
    clause = models.ForeignKey(Clause, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    answer = models.ForeignKey(Answer, null=True, blank=True, on_delete=models.CASCADE, related_name="+")

    class Meta:
        abstract = True
        ordering = ["position", "pk"]
        constraints = [
            models.CheckConstraint(
                name="%(class)s_rests_on_clause_or_answer",
                condition=Q(clause__isnull=False) | Q(answer__isnull=False),
            )
        ]

    def __str__(self) -> str:
        return self.text[:40]


class SeatReason(Evidenced):
    """One reason of one assessor; seen by the panel's assessors after all have decided, and by educators."""

    seat = models.ForeignKey(PanelSeat, on_delete=models.CASCADE, related_name="reasons")


class PanelWord(Evidenced):
    """What the panel as one tells the trainee."""

    panel = models.ForeignKey(AssessorPanel, on_delete=models.CASCADE, related_name="words")
