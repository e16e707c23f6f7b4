"""Plates: clauses set beside correct and incorrect exhibits, with the club's note."""

from __future__ import annotations

from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from courses.models.choices import State
from courses.models.exhibit import Exhibit
from courses.models.standard import Clause, Edition


class Plate(models.Model):
    """Clauses of one edition, exhibits that keep and that break them, and why it matters."""

    edition = models.ForeignKey(Edition, on_delete=models.CASCADE, related_name="plates")
    number = models.PositiveIntegerField(_("number"))
    title = models.CharField(_("title"), max_length=120)
    note = models.TextField(_("the club’s note"), max_length=4000, blank=True)
    state = models.CharField(max_length=9, choices=State.choices, default=State.DRAFT)
    published_at = models.DateTimeField(null=True, blank=True)
    changed_at = models.DateTimeField(default=timezone.now)
    clauses = models.ManyToManyField(Clause, through="PlateClause", related_name="plates")
    exhibits = models.ManyToManyField(Exhibit, through="PlateExhibit", related_name="plates")

    class Meta:
        verbose_name = _("plate")
        ordering = ["number"]
        constraints = [models.UniqueConstraint("edition", "number", name="one_plate_per_edition_and_number")]

    def __str__(self) -> str:
        return f"Plate {self.number}"


class PlateClause(models.Model):
    """A clause on a plate, in its place."""

    plate = models.ForeignKey(Plate, on_delete=models.CASCADE, related_name="plate_clauses")
    clause = models.ForeignKey(Clause, on_delete=models.CASCADE, related_name="plate_clauses")
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [models.UniqueConstraint("plate", "clause", name="a_clause_once_on_a_plate")]

    def __str__(self) -> str:
        return f"{self.clause_id} on {self.plate_id}"


class PlateExhibit(models.Model):
    """An exhibit on a plate, correct or incorrect there. Letters a, b, … follow the order."""

    class Side(models.TextChoices):
        CORRECT = "correct", _("Correct")
        INCORRECT = "incorrect", _("Incorrect")

    plate = models.ForeignKey(Plate, on_delete=models.CASCADE, related_name="plate_exhibits")
    exhibit = models.ForeignKey(Exhibit, on_delete=models.PROTECT, related_name="plate_exhibits")
    side = models.CharField(max_length=9, choices=Side.choices)
    position = models.PositiveSmallIntegerField(default=0)
    caption = models.CharField(_("caption on this plate"), max_length=200, blank=True)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [models.UniqueConstraint("plate", "exhibit", name="an_exhibit_once_on_a_plate")]

    def __str__(self) -> str:
        return f"{self.exhibit_id} on {self.plate_id}"
