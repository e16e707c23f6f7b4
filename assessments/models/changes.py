"""Who changed which mark when: rows that are written once and never again."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Collection
from typing import Any, NoReturn

from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments.models.sitting import Answer, Sitting
from shared.accounts.models import Membership

ROWS_AT_ONCE = 500


class OnRecord(TypeError):
    """A row of the record was to be changed or taken away."""


def _refuse(*args: Any, **kwargs: Any) -> NoReturn:
    raise OnRecord("The record of marks is added to, never changed.")


class Record(models.QuerySet):
    """Rows that can be added and read."""

    update = delete = bulk_update = update_or_create = _refuse

    def bulk_create(self, objs: Collection[Any], *args: Any, **kwargs: Any) -> list[Any]:
        """Add many rows; none that is there may be written over."""
        if kwargs.get("update_conflicts"):
            _refuse()
        return super().bulk_create(objs, *args, **kwargs)

    def take_words_out(
        self,
        rewrite: Callable[[str], str],
        day_of: Callable[[datetime.datetime], datetime.datetime] | None = None,
    ) -> None:
        """The one exception, for erasing somebody: other words, or none. Which mark who changed and when stays.

        `day_of` makes a day of the moment at which the rules marked, which is that of the handing in.
        """
        changed = []
        for row in self.only("pk", "words", "at", "by"):
            before = row.words, row.at
            row.words = rewrite(row.words)
            if day_of and row.by_id is None:
                row.at = day_of(row.at)
            if (row.words, row.at) != before:
                changed.append(row)
        plain = models.QuerySet(self.model, using=self.db)
        plain.bulk_update(changed, ["words", "at"], ROWS_AT_ONCE)


class MarkChange(models.Model):
    """One thing that happened to an answer's mark, or to a sitting's result before a panel.

    `by` is empty where the rules did it. `before` and `after` are the mark that counts, out of 100 to one
    decimal; `after` alone is a mark that was given beside it. A row goes only with its whole answer, when a
    person's data are erased.
    """

    class Kind(models.TextChoices):
        MARKED = "marked", _("marked by the rules")
        MARKED_ANEW = "marked anew", _("marked anew by the rules")
        BY_HAND = "by hand", _("marked by a mentor")
        ADJUSTED = "adjusted", _("adjusted")
        TAKEN_BACK = "taken back", _("adjustment taken back")
        SECOND_ASKED = "second asked", _("second marking asked for")
        SECOND_WITHDRAWN = "second withdrawn", _("second marking withdrawn")
        FIRST_GIVEN = "first given", _("first mark set down for comparison")
        SECOND_GIVEN = "second given", _("second mark given")
        SETTLED = "settled", _("second marking settled")
        PANEL_ASKED = "panel asked", _("panel asked")
        PANEL_CHANGED = "panel changed", _("panel changed")
        PANEL_DECIDED = "panel decided", _("panel decided")
        PANEL_TOLD = "panel told", _("trainee told by the panel")

    answer = models.ForeignKey(
        Answer, null=True, blank=True, on_delete=models.CASCADE, related_name="mark_changes"
    )
    sitting = models.ForeignKey(
        Sitting, null=True, blank=True, on_delete=models.CASCADE, related_name="mark_changes"
    )
    kind = models.CharField(max_length=16, choices=Kind.choices)
    by = models.ForeignKey(Membership, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    before = models.DecimalField(max_digits=4, decimal_places=1, null=True, blank=True)
    after = models.DecimalField(max_digits=4, decimal_places=1, null=True, blank=True)
    words = models.TextField(blank=True)

    objects = Record.as_manager()

    class Meta:
        verbose_name = _("change of a mark")
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                name="a_change_is_of_an_answer_or_a_sitting",
                condition=Q(answer=None, sitting__isnull=False) | Q(answer__isnull=False, sitting=None),
            )
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.before} {self.after}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Add the row; one that is there is never written over."""
        if not self._state.adding:
            _refuse()
        super().save(**{**kwargs, "force_insert": True})

    def delete(self, *args: Any, **kwargs: Any) -> NoReturn:
        """Refused: what happened stays on record."""
        _refuse()
