"""Sittings and answers. An answer is saved step by step; no later save overwrites one it has not seen."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments.models.item import Item
from assessments.models.quiz import Quiz
from shared.accounts.models import Membership


class Sitting(models.Model):
    """One trainee's attempt at a quiz."""

    quiz = models.ForeignKey(Quiz, on_delete=models.PROTECT, related_name="sittings")
    trainee = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="sittings")
    number = models.PositiveIntegerField()
    begun_at = models.DateTimeField(default=timezone.now)
    finished_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        verbose_name = _("sitting")
        ordering = ["-begun_at"]
        constraints = [
            models.UniqueConstraint("quiz", "trainee", "number", name="one_sitting_per_number"),
            models.UniqueConstraint(
                "quiz", "trainee", condition=Q(finished_at=None), name="one_open_sitting_per_quiz_and_trainee"
            ),
        ]

    def __str__(self) -> str:
        return f"sitting {self.number} of quiz {self.quiz_id}"


class Answer(models.Model):
    """What a trainee says of one item. `content` has the shape that the item's kind gives it.

    It is handed in, or passed over because a picture of its item may no longer be shown: then it has no mark.
    """

    sitting = models.ForeignKey(Sitting, on_delete=models.CASCADE, related_name="answers")
    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="answers")
    position = models.PositiveIntegerField()
    content = models.JSONField(default=dict)
    revision = models.PositiveIntegerField(default=0)
    saved_at = models.DateTimeField(null=True, blank=True)
    handed_in_at = models.DateTimeField(null=True, blank=True, db_index=True)
    passed_over_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        verbose_name = _("answer")
        ordering = ["position", "pk"]
        constraints = [models.UniqueConstraint("sitting", "item", name="one_answer_per_sitting_and_item")]

    def __str__(self) -> str:
        return f"answer {self.pk}"

    @property
    def asks_again(self) -> bool:
        """Whether the trainee has asked about its mark and waits for a word."""
        query = getattr(self, "query", None)
        return query is not None and query.settled_at is None

    @property
    def shown_comments(self) -> list[dict[str, object]]:
        """Pinned comments for the picture, from `standing_comments` of `answers_with_marks`."""
        return [
            {"x": comment.x, "y": comment.y, "name": comment.author.person.short_name}
            for comment in self.standing_comments
        ]


class SavedStep(models.Model):
    """A save that was acknowledged, by the identity the device gave it: sent twice, it counts once."""

    answer = models.ForeignKey(Answer, on_delete=models.CASCADE, related_name="saved_steps")
    identity = models.UUIDField(unique=True)
    revision = models.PositiveIntegerField()
    saved_at = models.DateTimeField(default=timezone.now)

    def __str__(self) -> str:
        return str(self.identity)
