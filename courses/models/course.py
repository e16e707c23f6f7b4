"""Courses: ordered modules; modules: ordered places that hold a text, a plate or a quiz."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from courses.models.choices import State
from courses.models.plate import Plate
from courses.models.standard import Edition


class Course(models.Model):
    """What a club teaches of one edition, module after module."""

    edition = models.ForeignKey(Edition, on_delete=models.CASCADE, related_name="courses")
    title = models.CharField(_("title"), max_length=120)
    summary = models.TextField(_("what it is for"), max_length=1000, blank=True)
    state = models.CharField(max_length=9, choices=State.choices, default=State.DRAFT)
    published_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        verbose_name = _("course")
        verbose_name_plural = _("courses")
        ordering = ["title", "pk"]

    def __str__(self) -> str:
        return self.title


class Module(models.Model):
    """A teaching unit. Withdrawn, it stays open to those who have begun it."""

    course = models.ForeignKey(Course, on_delete=models.CASCADE, related_name="modules")
    position = models.PositiveIntegerField()
    title = models.CharField(_("title"), max_length=120)
    summary = models.TextField(_("summary"), max_length=1000, blank=True)
    state = models.CharField(max_length=9, choices=State.choices, default=State.DRAFT)
    published_at = models.DateTimeField(null=True, blank=True)
    changed_at = models.DateTimeField(default=timezone.now)

    class Meta:
        verbose_name = _("module")
        verbose_name_plural = _("modules")
        ordering = ["position", "pk"]

    def __str__(self) -> str:
        return self.title


class Place(models.Model):
    """One step of a module: a text, a plate, or room for a quiz, which points back here."""

    class Kind(models.TextChoices):
        TEXT = "text", _("text")
        PLATE = "plate", _("plate")
        QUIZ = "quiz", _("quiz")

    module = models.ForeignKey(Module, on_delete=models.CASCADE, related_name="places")
    position = models.PositiveIntegerField()
    kind = models.CharField(max_length=5, choices=Kind.choices)
    title = models.CharField(_("title"), max_length=120, blank=True)
    text = models.TextField(_("text"), max_length=20_000, blank=True)
    plate = models.ForeignKey(Plate, null=True, blank=True, on_delete=models.PROTECT, related_name="places")

    class Meta:
        verbose_name = _("place")
        ordering = ["position", "pk"]
        constraints = [
            models.CheckConstraint(
                name="only_a_plate_place_has_a_plate",
                condition=Q(kind="plate", plate__isnull=False) | (~Q(kind="plate") & Q(plate__isnull=True)),
            )
        ]

    def __str__(self) -> str:
        return self.title or self.kind


class Progress(models.Model):
    """How far a person has read a module: the place where they stopped, and when they finished."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="progress")
    module = models.ForeignKey(Module, on_delete=models.CASCADE, related_name="progress")
    place = models.ForeignKey(Place, null=True, on_delete=models.SET_NULL, related_name="+")
    begun_at = models.DateTimeField(default=timezone.now)
    last_at = models.DateTimeField(default=timezone.now)
    finished_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint("person", "module", name="one_progress_per_person_and_module")]

    def __str__(self) -> str:
        return f"{self.person_id} in {self.module_id}"
