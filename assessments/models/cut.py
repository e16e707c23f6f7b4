"""Where a panel puts the pass mark of a quiz: estimates item by item, each panellist's own, kept with the date."""

from __future__ import annotations

from django.conf import settings
from django.core.validators import MaxValueValidator
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments.models.item import Item
from assessments.models.quiz import Quiz
from shared.accounts.models import Membership


class CutStudy(models.Model):
    """One round of estimates for a quiz by the modified Angoff method; the newest that was closed counts.

    `items` are the ids of the quiz's items when the round began, in order. Closed, the round keeps what came
    of it: `cut` and `standard_error` as fractions of the paper.
    """

    quiz = models.ForeignKey(Quiz, on_delete=models.CASCADE, related_name="cut_studies")
    items = models.JSONField()
    begun_at = models.DateTimeField(default=timezone.now)
    begun_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    closed_at = models.DateTimeField(null=True, blank=True)
    closed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    cut = models.FloatField(null=True, blank=True)
    standard_error = models.FloatField(null=True, blank=True)

    class Meta:
        verbose_name = _("estimates for a pass mark")
        ordering = ["-begun_at", "-pk"]
        constraints = [
            models.UniqueConstraint("quiz", condition=Q(closed_at=None), name="one_open_cut_study_per_quiz"),
            models.CheckConstraint(
                name="a_closed_cut_study_has_its_cut",
                condition=Q(closed_at=None, cut=None) | Q(closed_at__isnull=False, cut__gte=0, cut__lte=1),
            ),
        ]

    def __str__(self) -> str:
        return f"estimates of {self.begun_at:%Y-%m-%d} for quiz {self.quiz_id}"


class CutPanellist(models.Model):
    """A member asked for estimates, and when they handed theirs over; from then on they stand."""

    study = models.ForeignKey(CutStudy, on_delete=models.CASCADE, related_name="panellists")
    member = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="cut_panels")
    given_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        verbose_name = _("panellist")
        ordering = ["member__person__name", "pk"]
        constraints = [models.UniqueConstraint("study", "member", name="a_member_once_in_a_cut_study")]

    def __str__(self) -> str:
        return f"{self.member_id} in cut study {self.study_id}"


class CutEstimate(models.Model):
    """One panellist's estimate of one item, in per cent: how surely a barely competent judge answers right."""

    panellist = models.ForeignKey(CutPanellist, on_delete=models.CASCADE, related_name="estimates")
    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="+")
    per_cent = models.PositiveSmallIntegerField(validators=[MaxValueValidator(100)])

    class Meta:
        constraints = [
            models.UniqueConstraint("panellist", "item", name="one_estimate_per_panellist_and_item"),
            models.CheckConstraint(name="an_estimate_is_a_percentage", condition=Q(per_cent__lte=100)),
        ]

    def __str__(self) -> str:
        return f"{self.per_cent} % for item {self.item_id}"
