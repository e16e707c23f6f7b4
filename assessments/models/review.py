"""Mentoring: who mentors whom, comments on the picture, the trainee's query, the answer's return."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments.models.sitting import Answer
from shared.accounts.models import Membership


class Mentorship(models.Model):
    """A mentor and one of their trainees, both of one club."""

    mentor = models.ForeignKey(Membership, on_delete=models.CASCADE, related_name="trainees_of")
    trainee = models.ForeignKey(Membership, on_delete=models.CASCADE, related_name="mentors_of")
    begun_at = models.DateTimeField(default=timezone.now)
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        verbose_name = _("mentorship")
        constraints = [
            models.UniqueConstraint(
                "mentor", "trainee", condition=Q(ended_at=None), name="one_running_mentorship_per_pair"
            ),
            models.CheckConstraint(name="nobody_mentors_themselves", condition=~Q(mentor=F("trainee"))),
        ]

    def __str__(self) -> str:
        return f"{self.mentor_id} mentors {self.trainee_id}"


class Review(models.Model):
    """A mentor's look at one answer: open until it is returned to the trainee."""

    answer = models.OneToOneField(Answer, on_delete=models.CASCADE, related_name="review")
    mentor = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="reviews")
    opened_at = models.DateTimeField(default=timezone.now)
    returned_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        verbose_name = _("review")

    def __str__(self) -> str:
        return f"review of answer {self.answer_id}"


class Comment(models.Model):
    """Words pinned to a spot of the picture, or said of the answer as a whole (x and y empty)."""

    answer = models.ForeignKey(Answer, on_delete=models.CASCADE, related_name="comments")
    author = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="comments")
    x = models.FloatField(null=True, blank=True)
    y = models.FloatField(null=True, blank=True)
    text = models.TextField(_("comment"), max_length=1000)
    made_at = models.DateTimeField(default=timezone.now)
    removed_at = models.DateTimeField(null=True, blank=True)
    second = models.ForeignKey(
        "SecondMarking",
        null=True,
        blank=True,
        on_delete=models.CASCADE,
        related_name="comments",
        help_text=_("The second marking it belongs to: it is read there, and nowhere else."),
    )

    class Meta:
        verbose_name = _("comment")
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                name="a_spot_has_both_coordinates",
                condition=Q(x=None, y=None) | Q(x__gte=0, x__lte=1, y__gte=0, y__lte=1),
            )
        ]

    def __str__(self) -> str:
        return self.text[:40]


class Query(models.Model):
    """A trainee's dispute of a mark, and what the mentor answered.

    `upheld` says that the key is to be mended: the key's page shows it until a newer version is published.
    """

    answer = models.OneToOneField(Answer, on_delete=models.CASCADE, related_name="query")
    text = models.TextField(_("what should be looked at again"), max_length=1000)
    asked_at = models.DateTimeField(default=timezone.now)
    settled_at = models.DateTimeField(null=True, blank=True)
    settled_by = models.ForeignKey(
        Membership, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    upheld = models.BooleanField(default=False)
    reply = models.TextField(_("reply"), max_length=1000, blank=True)

    class Meta:
        verbose_name = _("query")
        verbose_name_plural = _("queries")

    def __str__(self) -> str:
        return self.text[:40]
