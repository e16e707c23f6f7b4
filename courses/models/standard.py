"""The written standard: a breed's editions, their sections and clauses, the club's list of faults."""

from __future__ import annotations

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from courses.models.choices import Zone
from shared.accounts.models import Club


class SeverityScale(models.Model):
    """The club's severity ladder from a day on; the newest begun holds, each mark keeps the one it used."""

    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="severity_scales")
    labels = models.JSONField(_("levels"), help_text=_("From lightest to heaviest."))
    weights = models.JSONField(_("weights"))
    disqualifying = models.BooleanField(_("the heaviest level disqualifies"), default=True)
    effective_from = models.DateField(_("in force from"))

    class Meta:
        verbose_name = _("severity ladder")
        ordering = ["-effective_from", "-pk"]

    def __str__(self) -> str:
        return " · ".join(self.labels)

    def __len__(self) -> int:
        return len(self.labels)

    def label(self, level: int | None) -> str:
        """What a level is called; the heaviest for one beyond the ladder, nothing for None."""
        return "" if level is None else self.labels[min(level, len(self.labels) - 1)]


class Breed(models.Model):
    """A breed that the club teaches, with how the club reads words of degree."""

    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="breeds")
    name = models.CharField(_("breed"), max_length=120)
    slug = models.SlugField(_("address"), max_length=60)
    readings = models.JSONField(default=dict, blank=True, help_text=_("Degree phrase to severity level."))

    class Meta:
        verbose_name = _("breed")
        verbose_name_plural = _("breeds")
        ordering = ["name"]
        constraints = [models.UniqueConstraint("club", "slug", name="one_breed_per_club_and_address")]

    def __str__(self) -> str:
        return self.name


class Edition(models.Model):
    """A dated issue of a breed's standard. Its wording is fixed once it is released."""

    class State(models.TextChoices):
        DRAFT = "draft", _("draft")
        RELEASED = "released", _("in force")
        RETIRED = "retired", _("retired")

    breed = models.ForeignKey(Breed, on_delete=models.CASCADE, related_name="editions")
    title = models.CharField(_("title"), max_length=160)
    issuing_body = models.CharField(_("issued by"), max_length=160)
    issued_on = models.DateField(_("issued on"))
    source = models.CharField(_("source"), max_length=300, blank=True)
    reproduced_by = models.TextField(_("permission to reproduce"), max_length=1000, blank=True)
    state = models.CharField(max_length=10, choices=State.choices, default=State.DRAFT)
    released_at = models.DateTimeField(null=True, blank=True)
    follows = models.ForeignKey("self", null=True, blank=True, on_delete=models.SET_NULL, related_name="next")
    created_at = models.DateTimeField(default=timezone.now)

    class Meta:
        verbose_name = _("edition")
        verbose_name_plural = _("editions")
        ordering = ["-issued_on", "-pk"]
        constraints = [
            models.UniqueConstraint(
                "breed", condition=models.Q(state="released"), name="one_edition_in_force_per_breed"
            )
        ]

    def __str__(self) -> str:
        return self.title

    @property
    def draft(self) -> bool:
        """Whether its wording may still change."""
        return self.state == self.State.DRAFT


class Section(models.Model):
    """A headed part of an edition."""

    edition = models.ForeignKey(Edition, on_delete=models.CASCADE, related_name="sections")
    position = models.PositiveIntegerField()
    number = models.CharField(_("number"), max_length=12)
    title = models.CharField(_("heading"), max_length=160)

    class Meta:
        verbose_name = _("section")
        ordering = ["position", "pk"]

    def __str__(self) -> str:
        return f"{self.number} {self.title}"


class Clause(models.Model):
    """One numbered demand of the standard, and what the club reads from it.

    `severity` is a level of the club's ladder, counted from 0; None once it is confirmed says that the clause
    weighs nothing by itself. `follows` is the clause of the edition before from which this one was copied.
    """

    edition = models.ForeignKey(Edition, on_delete=models.CASCADE, related_name="clauses")
    section = models.ForeignKey(Section, on_delete=models.CASCADE, related_name="clauses")
    position = models.PositiveIntegerField()
    number = models.CharField(_("number"), max_length=12)
    text = models.TextField(_("wording"), max_length=4000)
    zone = models.CharField(_("zone"), max_length=12, choices=Zone.choices, default=Zone.WHOLE)
    severity = models.PositiveSmallIntegerField(_("severity"), null=True, blank=True)
    severity_confirmed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.SET_NULL, related_name="+"
    )
    severity_confirmed_at = models.DateTimeField(null=True, blank=True)
    measure = models.CharField(_("measure"), max_length=40, blank=True)
    low = models.FloatField(_("from"), null=True, blank=True)
    high = models.FloatField(_("to"), null=True, blank=True)
    follows = models.ForeignKey("self", null=True, blank=True, on_delete=models.SET_NULL, related_name="+")

    class Meta:
        verbose_name = _("clause")
        ordering = ["section__position", "position", "pk"]
        constraints = [
            models.CheckConstraint(
                name="a_measurable_clause_has_its_range",
                condition=models.Q(measure="")
                | models.Q(low__isnull=False, high__isnull=False, low__lt=models.F("high")),
            )
        ]

    def __str__(self) -> str:
        return self.number


class EditionStep(models.Model):
    """What one change of an edition altered, as it was before, for undo."""

    edition = models.ForeignKey(Edition, on_delete=models.CASCADE, related_name="steps")
    label = models.CharField(max_length=120)
    before = models.JSONField()
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return self.label


class Fault(models.Model):
    """A departure with a name, from the club's list; the clause is that of the edition in force."""

    breed = models.ForeignKey(Breed, on_delete=models.CASCADE, related_name="faults")
    clause = models.ForeignKey(
        Clause, null=True, blank=True, on_delete=models.SET_NULL, related_name="faults"
    )
    name = models.CharField(_("fault"), max_length=80)
    virtue = models.CharField(_("opposite virtue"), max_length=80, blank=True)
    zone = models.CharField(_("zone"), max_length=12, choices=Zone.choices)
    level = models.PositiveSmallIntegerField(
        _("usual severity"), default=1, validators=[MinValueValidator(0), MaxValueValidator(11)]
    )
    other_names = models.JSONField(_("other names"), default=list, blank=True)
    figure = models.CharField(
        max_length=60, blank=True, help_text=_("The drawn figure's change of this fault.")
    )

    class Meta:
        verbose_name = _("fault")
        ordering = ["name"]
        constraints = [models.UniqueConstraint("breed", "name", name="one_fault_per_breed_and_name")]

    def __str__(self) -> str:
        return self.name
