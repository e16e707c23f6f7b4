"""Items and the versions of their keys."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext as now
from django.utils.translation import gettext_lazy as _

from assessments.models.fit import Fit
from assessments.models.quiz import Quiz
from courses.models import Clause, Edition, Exhibit, Fault
from courses.models.choices import Zone


class Item(models.Model):
    """One thing asked. `kind` names a folder of assessments/items.

    `exhibit` is the one shown, or the first of several, which `item_exhibits` then hold in their order; an item
    of words alone has none. `asking` is what is asked beside the exhibits, in the shape that the kind gives it:
    it is not changed any more once a key was published. `clause` is what it is about, where one clause is.
    """

    class State(models.TextChoices):
        DRAFT = "draft", _("draft")
        IN_USE = "in use", _("in use")
        RETIRED = "retired", _("retired")

    edition = models.ForeignKey(Edition, on_delete=models.CASCADE, related_name="items")
    kind = models.CharField(max_length=30, default="mark-the-faults")
    title = models.CharField(_("title"), max_length=120, blank=True)
    exhibit = models.ForeignKey(
        Exhibit, null=True, blank=True, on_delete=models.PROTECT, related_name="items"
    )
    clause = models.ForeignKey(Clause, null=True, blank=True, on_delete=models.PROTECT, related_name="items")
    asking = models.JSONField(default=dict, blank=True)
    copied_from = models.ForeignKey(
        "self", null=True, blank=True, on_delete=models.SET_NULL, related_name="copies"
    )
    state = models.CharField(max_length=7, choices=State.choices, default=State.DRAFT)
    created_at = models.DateTimeField(default=timezone.now)
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    quizzes = models.ManyToManyField(Quiz, through="QuizItem", related_name="items")

    class Meta:
        verbose_name = _("item")
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"item {self.pk}"

    @property
    def name(self) -> str:
        """What educators call it: its title, else its exhibit, its clause or its number."""
        if self.title:
            return self.title
        if self.exhibit is not None:
            return now("Exhibit %(n)d") % {"n": self.exhibit.number}
        if self.clause is not None:
            return now("Clause %(n)s") % {"n": self.clause.number}
        return now("Item %(n)d") % {"n": self.pk or 0}


class ItemExhibit(models.Model):
    """One of several exhibits that an item shows, in its place."""

    item = models.ForeignKey(Item, on_delete=models.CASCADE, related_name="item_exhibits")
    exhibit = models.ForeignKey(Exhibit, on_delete=models.PROTECT, related_name="item_exhibits")
    position = models.PositiveSmallIntegerField()

    class Meta:
        ordering = ["position", "pk"]
        constraints = [models.UniqueConstraint("item", "exhibit", name="an_exhibit_once_in_an_item")]

    def __str__(self) -> str:
        return f"exhibit {self.exhibit_id} in item {self.item_id}"


class QuizItem(models.Model):
    """An item's place in a quiz."""

    quiz = models.ForeignKey(Quiz, on_delete=models.CASCADE, related_name="quiz_items")
    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="quiz_items")
    position = models.PositiveIntegerField()

    class Meta:
        ordering = ["position", "pk"]
        constraints = [models.UniqueConstraint("quiz", "item", name="an_item_once_in_a_quiz")]

    def __str__(self) -> str:
        return f"item {self.item_id} in quiz {self.quiz_id}"


class Key(models.Model):
    """One version of an item's answer key: a draft, or published and never edited again.

    Faults and virtues are its entries; what other kinds key is its `content`, in the kind's shape.

    `revision` counts a draft's saves, so that no window overwrites what it has not seen; `last_save` is the
    identity of the newest, so that one sent twice counts once. The last draft that was discarded is kept
    until the next, to be taken back. `panel` is the one whose consensus it rests on, with its `agreement` and
    `fit`; without a panel a key has no agreement, and is fit for what its kind says (`ItemKind.fit_of`), if anything.
    """

    item = models.ForeignKey(Item, on_delete=models.CASCADE, related_name="keys")
    version = models.PositiveIntegerField()
    sound = models.BooleanField(_("sound: no fault to mark"), default=False)
    content = models.JSONField(default=dict, blank=True)
    note = models.TextField(_("note"), max_length=2000, blank=True)
    panel = models.ForeignKey(
        "assessments.KeyPanel", null=True, blank=True, on_delete=models.PROTECT, related_name="keys"
    )
    agreement = models.FloatField(null=True, blank=True)
    fit = models.CharField(max_length=11, choices=Fit.choices, blank=True)
    published_at = models.DateTimeField(null=True, blank=True)
    discarded_at = models.DateTimeField(null=True, blank=True)
    saved_at = models.DateTimeField(default=timezone.now)
    revision = models.PositiveIntegerField(default=0)
    last_save = models.UUIDField(null=True, blank=True)
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        verbose_name = _("key")
        ordering = ["-version"]
        constraints = [
            models.UniqueConstraint(
                "item", "version", condition=Q(discarded_at=None), name="one_key_per_item_and_version"
            ),
            models.UniqueConstraint(
                "item", condition=Q(published_at=None, discarded_at=None), name="one_draft_key_per_item"
            ),
            models.UniqueConstraint(
                "item", condition=Q(discarded_at__isnull=False), name="one_discarded_key_per_item"
            ),
            models.CheckConstraint(
                name="a_published_key_is_not_discarded", condition=Q(published_at=None) | Q(discarded_at=None)
            ),
        ]

    def __str__(self) -> str:
        return f"key {self.version} of item {self.item_id}"


class KeyEntry(models.Model):
    """One fault of a key. Fields are empty while the educator is still at work on the draft.

    `regions` is a list of polygons [[x, y], …] in units of the picture's longer side; `whole_dog` says that
    the fault has no place; `also` is a list of {"fault": id, "credit": 0…1}.
    """

    key = models.ForeignKey(Key, on_delete=models.CASCADE, related_name="entries")
    position = models.PositiveSmallIntegerField()
    fault = models.ForeignKey(Fault, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    clause = models.ForeignKey(Clause, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    zone = models.CharField(max_length=12, choices=Zone.choices, blank=True)
    level = models.PositiveSmallIntegerField(null=True, blank=True)
    whole_dog = models.BooleanField(default=False)
    regions = models.JSONField(default=list, blank=True)
    also = models.JSONField(default=list, blank=True)

    class Meta:
        ordering = ["position", "pk"]

    def __str__(self) -> str:
        return f"{self.fault_id} in key {self.key_id}"
