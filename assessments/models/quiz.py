"""Quizzes and the versions of the rules by which they are marked."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from courses.models import Edition, Place


class Quiz(models.Model):
    """A set of items on one edition. In practice each answer is marked as soon as it is handed in; an
    examination paper has a row of its own, `paper`, and other pages."""

    class Purpose(models.TextChoices):
        PRACTICE = "practice", _("practice")
        PAPER = "paper", _("examination paper")

    class State(models.TextChoices):
        DRAFT = "draft", _("draft")
        OPEN = "open", _("open")
        CLOSED = "closed", _("closed")

    edition = models.ForeignKey(Edition, on_delete=models.CASCADE, related_name="quizzes")
    place = models.OneToOneField(Place, null=True, blank=True, on_delete=models.SET_NULL, related_name="quiz")
    purpose = models.CharField(max_length=8, choices=Purpose.choices, default=Purpose.PRACTICE)
    title = models.CharField(_("title"), max_length=120)
    introduction = models.TextField(_("introduction"), max_length=2000, blank=True)
    state = models.CharField(max_length=6, choices=State.choices, default=State.DRAFT)
    opened_at = models.DateTimeField(null=True, blank=True)
    created_at = models.DateTimeField(default=timezone.now)

    class Meta:
        verbose_name = _("quiz")
        verbose_name_plural = _("quizzes")
        ordering = ["title", "pk"]

    def __str__(self) -> str:
        return self.title


class QuizRules(models.Model):
    """One version of a quiz's marking rules and severity ladder, as data; versions are never edited."""

    quiz = models.ForeignKey(Quiz, on_delete=models.CASCADE, related_name="rules_versions")
    version = models.PositiveIntegerField()
    rules = models.JSONField()
    ladder = models.JSONField()
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["-version"]
        constraints = [models.UniqueConstraint("quiz", "version", name="one_rules_version_per_quiz")]

    def __str__(self) -> str:
        return f"rules {self.version} of quiz {self.quiz_id}"
