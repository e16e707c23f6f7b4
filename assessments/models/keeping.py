"""How long a club keeps what is of one person, and what is remembered once it is gone."""

from __future__ import annotations

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments.models.quiz import Quiz
from shared.accounts.models import Club, Membership

MONTHS = [MinValueValidator(1), MaxValueValidator(600)]


class KeepingRules(models.Model):
    """How many months a club keeps things, from a day on; the newest begun holds. Versions are never edited.

    `answers` counts from the end of a practice sitting, `papers` from the release of a paper's results, `left`
    from the end of a membership. Empty keeps until somebody asks.
    """

    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="keeping_rules")
    effective_from = models.DateField(_("in force from"))
    answers = models.PositiveSmallIntegerField(
        _("answers in practice"), null=True, blank=True, validators=MONTHS
    )
    papers = models.PositiveSmallIntegerField(
        _("answers to papers"), null=True, blank=True, validators=MONTHS
    )
    left = models.PositiveSmallIntegerField(_("people who left"), null=True, blank=True, validators=MONTHS)
    made_by = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField(default=timezone.now)

    class Meta:
        verbose_name = _("how long things are kept")
        ordering = ["-effective_from", "-pk"]
        constraints = [
            models.CheckConstraint(
                name="what_is_kept_is_kept_for_a_month",
                condition=(models.Q(answers=None) | models.Q(answers__gte=1))
                & (models.Q(papers=None) | models.Q(papers__gte=1))
                & (models.Q(left=None) | models.Q(left__gte=1)),
            )
        ]

    def __str__(self) -> str:
        return f"kept {self.answers}, {self.papers}, {self.left} months from {self.effective_from}"


class SatBefore(models.Model):
    """A member's number of sittings of a quiz whose answers are nobody's any more.

    It says only that the quiz is not new to them: a later sitting must not count as a first one.
    """

    trainee = models.ForeignKey(Membership, on_delete=models.CASCADE, related_name="sat_before")
    quiz = models.ForeignKey(Quiz, on_delete=models.CASCADE, related_name="+")
    number = models.PositiveIntegerField()

    class Meta:
        constraints = [models.UniqueConstraint("trainee", "quiz", name="sat_before_once_per_quiz")]

    def __str__(self) -> str:
        return f"{self.number} of quiz {self.quiz_id}"
