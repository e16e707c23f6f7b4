"""What marks say in rows that can be counted, and figures that were worked out and are kept.

A mark keeps all that its page shows as JSON; counting would have to read it all. So marking writes one small
row for each fault of the key and one for each false alarm, of the answer's current mark alone: a marking anew
replaces them.
"""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments.models.item import Item
from assessments.models.quiz import Quiz
from assessments.models.sitting import Answer
from courses.models import Clause, Fault
from courses.models.choices import Zone
from shared.accounts.models import Club, Membership


class Counted(models.Model):
    """What both kinds of row say of the answer that they belong to, so that counting needs no join.

    `first` is true in a trainee's first sitting of the quiz, before anything of the key was shown; `day` is
    the day of handing in where the club is.
    """

    answer = models.ForeignKey(Answer, on_delete=models.CASCADE, related_name="%(class)s_rows")
    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="+", db_index=False)
    quiz = models.ForeignKey(Quiz, on_delete=models.CASCADE, related_name="+", db_index=False)
    item = models.ForeignKey(Item, on_delete=models.CASCADE, related_name="+", db_index=False)
    trainee = models.ForeignKey(Membership, on_delete=models.CASCADE, related_name="+", db_index=False)
    first = models.BooleanField()
    day = models.DateField()
    zone = models.CharField(max_length=12, choices=Zone.choices, blank=True)
    x = models.FloatField(null=True, blank=True)
    y = models.FloatField(null=True, blank=True)

    class Meta:
        abstract = True


class EntryResult(Counted):
    """How one fault of a key fared in one answer.

    `outcome` says it in a word; `given_fault` and `given_level` are what the matched pin said, x and y where
    it is (empty for a missed fault, x and y also for one of the whole dog).
    """

    class Outcome(models.IntegerChoices):
        MISSED = 0, _("missed")
        OTHERWISE = 1, _("seen, named otherwise or not at all")
        PARTLY = 2, _("seen, named in part, weighed as the key")
        PARTLY_OFF = 3, _("seen, named in part, weighed otherwise")
        OFF = 4, _("named as the key, weighed otherwise")
        AS_KEY = 5, _("as the key")

    place = models.PositiveSmallIntegerField(help_text=_("Of the entry in its key, from 0."))
    clause = models.ForeignKey(Clause, on_delete=models.CASCADE, related_name="+", db_index=False)
    fault = models.ForeignKey(Fault, on_delete=models.CASCADE, related_name="+", db_index=False)
    level = models.PositiveSmallIntegerField()
    outcome = models.PositiveSmallIntegerField(choices=Outcome.choices)
    given_fault = models.ForeignKey(
        Fault, null=True, blank=True, on_delete=models.SET_NULL, related_name="+", db_index=False
    )
    given_level = models.PositiveSmallIntegerField(null=True, blank=True)

    class Meta:
        indexes = [
            # All that counting by clause asks, in the order of the clauses, so that no row is looked up.
            models.Index(
                fields=["club", "clause", "zone", "outcome", "quiz", "trainee", "day"],
                condition=Q(first=True),
                name="results_by_clause",
            ),
            models.Index(fields=["item", "quiz"], condition=Q(first=True), name="results_by_item"),
        ]

    def __str__(self) -> str:
        return f"{self.get_outcome_display()}, answer {self.answer_id}"


class FalseAlarm(Counted):
    """A fault called where the key has none; `fault` is what it was called, if it was named."""

    fault = models.ForeignKey(
        Fault, null=True, blank=True, on_delete=models.SET_NULL, related_name="+", db_index=False
    )
    level = models.PositiveSmallIntegerField(null=True, blank=True)

    class Meta:
        indexes = [
            models.Index(
                fields=["club", "fault", "zone", "quiz", "trainee", "day"],
                condition=Q(first=True),
                name="alarms_by_fault",
            ),
            models.Index(fields=["item", "quiz"], condition=Q(first=True), name="alarms_by_item"),
        ]

    def __str__(self) -> str:
        return f"false alarm in answer {self.answer_id}"


class Figures(models.Model):
    """A quiz's figures as they were worked out last.

    `changes` counts the quiz's markings, `counted` is how many of them the figures had seen: while the two
    differ there are newer answers. A marking always counts up, in its own transaction, so that one that is
    not committed yet when the figures are worked out is not taken for counted.
    """

    quiz = models.OneToOneField(Quiz, on_delete=models.CASCADE, related_name="figures")
    data = models.JSONField(default=dict, blank=True)
    computed_at = models.DateTimeField(default=timezone.now)
    changes = models.PositiveIntegerField(default=0)
    counted = models.IntegerField(default=-1)
    asked_at = models.DateTimeField(null=True, blank=True, help_text=_("When the background was asked last."))

    class Meta:
        verbose_name = _("figures")

    def __str__(self) -> str:
        return f"figures of quiz {self.quiz_id}"

    @property
    def fresh(self) -> bool:
        """Whether every marking is in them."""
        return self.counted == self.changes
