"""Blind second marking: another mentor marks an answer without seeing what the first said of it."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments.models.sitting import Answer
from shared.accounts.models import Membership


class SecondMarking(models.Model):
    """Two marks for one answer, each given without the other, compared and settled.

    `first_…` is the first mentor's mark as it stood when they returned the answer, `second_…` the other's.
    All marks are out of 100, to one decimal. `given` means that both are there.
    """

    class Stands(models.TextChoices):
        FIRST = "first", _("the first mark")
        SECOND = "second", _("the second mark")
        OTHER = "other", _("another mark")

    answer = models.ForeignKey(Answer, on_delete=models.CASCADE, related_name="second_markings")
    asked_by = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="+")
    asked_at = models.DateTimeField(default=timezone.now)
    why = models.CharField(_("why a second marking"), max_length=300)
    first = models.ForeignKey(Membership, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    first_points = models.DecimalField(max_digits=4, decimal_places=1, null=True, blank=True)
    first_words = models.TextField(blank=True)
    first_at = models.DateTimeField(null=True, blank=True)
    second = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="second_markings")
    second_points = models.DecimalField(_("your mark"), max_digits=4, decimal_places=1, null=True, blank=True)
    second_words = models.TextField(_("why"), max_length=1000, blank=True)
    second_at = models.DateTimeField(null=True, blank=True)
    settled_by = models.ForeignKey(
        Membership, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    settled_at = models.DateTimeField(null=True, blank=True)
    stands = models.CharField(max_length=6, choices=Stands.choices, blank=True)
    settled_points = models.DecimalField(max_digits=4, decimal_places=1, null=True, blank=True)
    reason = models.TextField(_("reason"), max_length=1000, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        verbose_name = _("second marking")
        ordering = ["-pk"]
        constraints = [
            models.UniqueConstraint(
                "answer",
                condition=Q(settled_at=None, withdrawn_at=None),
                name="one_open_second_marking_per_answer",
            ),
            models.CheckConstraint(
                name="two_people_mark_twice", condition=Q(first=None) | ~Q(first=F("second"))
            ),
            models.CheckConstraint(
                name="only_what_is_given_twice_is_settled",
                condition=Q(settled_at=None) | Q(first_at__isnull=False, second_at__isnull=False),
            ),
        ]
        indexes = [
            models.Index(
                fields=["second", "asked_at"],
                condition=Q(second_at=None, withdrawn_at=None),
                name="second_markings_waiting",
            )
        ]

    def __str__(self) -> str:
        return f"second marking of answer {self.answer_id}"

    @property
    def given(self) -> bool:
        """Whether both marks are there and can be compared."""
        return self.first_at is not None and self.second_at is not None

    @property
    def open(self) -> bool:
        """Whether something is still to be done about it."""
        return self.settled_at is None and self.withdrawn_at is None
