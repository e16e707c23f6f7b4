"""How hard each item is, kept in a small row of its own so that a list of items need not count answers."""

from __future__ import annotations

from django.db import models
from django.utils.translation import gettext_lazy as _

from assessments.models.item import Item


class Facility(models.Model):
    """The share of the marks that people won on an item at their first sittings.

    `changes` counts the marks that the item was ever given, `counted` is how many of them the figure had seen:
    while the two differ there are newer ones, see `Figures`.
    """

    item = models.OneToOneField(Item, on_delete=models.CASCADE, related_name="facility")
    people = models.PositiveIntegerField(default=0)
    share = models.FloatField(null=True, blank=True)
    changes = models.PositiveIntegerField(default=0)
    counted = models.IntegerField(default=-1)

    class Meta:
        verbose_name = _("facility")
        verbose_name_plural = _("facilities")

    def __str__(self) -> str:
        return f"facility of item {self.item_id}"
