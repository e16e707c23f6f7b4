"""Marks: what the rules gave, by which key and rules; what a mentor changed, beside it; who is told."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments.models.item import Key
from assessments.models.quiz import QuizRules
from assessments.models.sitting import Answer
from shared.accounts.models import Membership


class Mark(models.Model):
    """The score of one answer by one key and one set of rules. Superseded marks stay on record."""

    answer = models.ForeignKey(Answer, on_delete=models.CASCADE, related_name="marks")
    key = models.ForeignKey(Key, on_delete=models.PROTECT, related_name="marks")
    rules = models.ForeignKey(QuizRules, on_delete=models.PROTECT, related_name="marks")
    score = models.FloatField()
    seeing = models.FloatField(null=True, blank=True)
    naming = models.FloatField(null=True, blank=True)
    weighing = models.FloatField(null=True, blank=True)
    detail = models.JSONField()
    disqualification = models.CharField(
        max_length=12,
        blank=True,
        choices=[
            ("missed", _("missed")),
            ("not weighed", _("weighed lower")),
            ("overclaimed", _("claimed wrongly")),
        ],
        help_text=_("In which way the answer is wrong about a disqualification, if it is."),
    )
    marked_at = models.DateTimeField(default=timezone.now)
    current = models.BooleanField(default=True)

    class Meta:
        verbose_name = _("mark")
        ordering = ["-pk"]
        constraints = [
            models.UniqueConstraint("answer", condition=Q(current=True), name="one_current_mark_per_answer"),
            models.CheckConstraint(name="a_score_is_a_fraction", condition=Q(score__gte=0, score__lte=1)),
        ]

    def __str__(self) -> str:
        return f"{self.score:.3f} for answer {self.answer_id}"


class Adjustment(models.Model):
    """A mentor's change to a mark as shown, in points of 100, with the reason the trainee reads."""

    answer = models.ForeignKey(Answer, on_delete=models.CASCADE, related_name="adjustments")
    mark = models.ForeignKey(Mark, on_delete=models.PROTECT, related_name="adjustments")
    made_by = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="+")
    what = models.CharField(_("adjust"), max_length=120)
    points = models.DecimalField(_("points"), max_digits=4, decimal_places=1)
    reason = models.TextField(_("reason"), max_length=1000)
    made_at = models.DateTimeField(default=timezone.now)
    taken_back_at = models.DateTimeField(null=True, blank=True)
    second = models.ForeignKey(
        "SecondMarking",
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="adjustments",
        help_text=_("The second marking that it settled: then it is the club’s, no one person’s."),
    )

    class Meta:
        verbose_name = _("adjustment")
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                "answer", condition=Q(taken_back_at=None), name="one_standing_adjustment_per_answer"
            )
        ]

    def __str__(self) -> str:
        return f"{self.points} on answer {self.answer_id}"


class Notice(models.Model):
    """Something a member is told of: a mark that changed, an answer that came back."""

    member = models.ForeignKey(Membership, on_delete=models.CASCADE, related_name="notices")
    answer = models.ForeignKey(
        Answer, null=True, blank=True, on_delete=models.CASCADE, related_name="notices"
    )
    text = models.CharField(max_length=300)
    made_at = models.DateTimeField(default=timezone.now)
    seen_at = models.DateTimeField(null=True, blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.SET_NULL, related_name="+"
    )

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return self.text
