"""Exhibits: one dog in one view, the owner's permission, the picture's sizes, points and shown faults."""

from __future__ import annotations

import secrets

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from courses.models.choices import AgeClass, Camera, Sex, State, Verdict, View
from courses.models.standard import Breed, Clause, Fault
from shared.accounts.models import Club


def original_path(exhibit: Exhibit, name: str) -> str:
    """Originals lie apart under a name that tells nothing."""
    return f"originals/{exhibit.club_id}/{secrets.token_hex(16)}"


def form_path(permission: PicturePermission, name: str) -> str:
    """Signed forms lie apart under a name that tells nothing."""
    return f"forms/{permission.exhibit_id}/{secrets.token_hex(16)}"


class Exhibit(models.Model):
    """One dog as shown: one picture in one view. Points and regions are in units of its longer side."""

    class Kind(models.TextChoices):
        PHOTOGRAPH = "photograph", _("photograph")
        DRAWN = "drawn", _("drawn")

    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="exhibits")
    breed = models.ForeignKey(Breed, on_delete=models.CASCADE, related_name="exhibits")
    number = models.PositiveIntegerField(_("number"))
    kind = models.CharField(max_length=12, choices=Kind.choices, default=Kind.PHOTOGRAPH)
    view = models.CharField(_("view"), max_length=8, choices=View.choices, default=View.PROFILE)
    sex = models.CharField(_("sex"), max_length=6, choices=Sex.choices, default=Sex.UNSAID)
    age_class = models.CharField(
        _("age class"), max_length=8, choices=AgeClass.choices, default=AgeClass.ADULT
    )
    caption = models.CharField(_("caption"), max_length=200, blank=True)
    description = models.CharField(_("description for those who cannot see it"), max_length=400, blank=True)
    verdict = models.CharField(_("verdict"), max_length=9, choices=Verdict.choices, default=Verdict.UNSAID)
    state = models.CharField(max_length=9, choices=State.choices, default=State.DRAFT)
    published_at = models.DateTimeField(null=True, blank=True)
    original = models.FileField(upload_to=original_path, blank=True, max_length=200)
    original_name = models.CharField(max_length=200, blank=True)
    width = models.PositiveIntegerField(default=0)
    height = models.PositiveIntegerField(default=0)
    fingerprint = models.CharField(max_length=64, blank=True, db_index=True)
    drawing = models.JSONField(null=True, blank=True)
    blanked = models.JSONField(
        default=list,
        blank=True,
        help_text=_("Outlines of what is painted over, in units of the longer side."),
    )
    camera = models.CharField(
        _("how it was taken"), max_length=8, choices=Camera.choices, default=Camera.UNKNOWN
    )
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField(default=timezone.now)

    class Meta:
        verbose_name = _("exhibit")
        verbose_name_plural = _("exhibits")
        ordering = ["-number"]
        constraints = [models.UniqueConstraint("club", "number", name="one_exhibit_per_club_and_number")]

    def __str__(self) -> str:
        return f"Exhibit {self.number}"

    @property
    def drawn(self) -> bool:
        """Drawn exhibits show no living dog and need no permission."""
        return self.kind == self.Kind.DRAWN


class Rendition(models.Model):
    """One size and format of an exhibit, under a name made from its content."""

    exhibit = models.ForeignKey(Exhibit, on_delete=models.CASCADE, related_name="renditions")
    name = models.CharField(max_length=80, db_index=True)
    file = models.CharField(max_length=160)
    format = models.CharField(max_length=4)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    bytes = models.PositiveIntegerField()

    class Meta:
        ordering = ["format", "width"]
        constraints = [models.UniqueConstraint("exhibit", "name", name="one_rendition_per_exhibit_and_name")]

    def __str__(self) -> str:
        return self.name


class PicturePermission(models.Model):
    """An owner's word on a picture. Whether it holds is computed from it, never ticked."""

    class How(models.TextChoices):
        FORM = "form", _("Signed form")
        EMAIL = "email", _("Email")
        SAID = "said", _("Said to me, noted by me")

    exhibit = models.ForeignKey(Exhibit, on_delete=models.CASCADE, related_name="permissions")
    given_by = models.CharField(_("who gave permission"), max_length=160)
    how = models.CharField(_("how it was given"), max_length=5, choices=How.choices)
    starts_on = models.DateField(_("from"))
    ends_on = models.DateField(_("until"), null=True, blank=True)
    teaching = models.BooleanField(_("Teaching"), default=True)
    examination = models.BooleanField(_("Examination"), default=False)
    print = models.BooleanField(_("Printed booklet"), default=False)
    public = models.BooleanField(_("Shown to everyone"), default=False)
    form = models.FileField(_("signed form"), upload_to=form_path, blank=True, max_length=200)
    note = models.CharField(_("note"), max_length=400, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    reminded_at = models.DateTimeField(null=True, blank=True)
    recorded_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField(default=timezone.now)

    class Meta:
        verbose_name = _("permission")
        ordering = ["-recorded_at"]
        constraints = [
            models.CheckConstraint(
                name="a_permission_ends_after_it_begins",
                condition=Q(ends_on=None) | Q(ends_on__gt=models.F("starts_on")),
            )
        ]

    def __str__(self) -> str:
        return f"{self.given_by}, exhibit {self.exhibit_id}"

    @property
    def uses(self) -> list[str]:
        """What the picture may be used for, in words."""
        fields = (self._meta.get_field(name) for name in ("teaching", "examination", "print", "public"))
        return [str(field.verbose_name) for field in fields if getattr(self, field.name)]


class Placement(models.Model):
    """One person's anatomical points on an exhibit: name to [x, y], or null where it is not visible.

    Until it is finished, its maker sees nobody else's points and nobody else sees these. `last_save` is the
    identity of the newest save, so that a save whose answer was lost is known again.
    """

    exhibit = models.ForeignKey(Exhibit, on_delete=models.CASCADE, related_name="placements")
    placed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    points = models.JSONField(default=dict)
    exact = models.BooleanField(default=False, help_text=_("Exported by the drawing itself."))
    placed_at = models.DateTimeField(default=timezone.now)
    revision = models.PositiveIntegerField(default=0)
    last_save = models.UUIDField(null=True, blank=True)
    saved_at = models.DateTimeField(null=True, blank=True)
    finished_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint("exhibit", "placed_by", name="one_placement_per_person")]

    def __str__(self) -> str:
        return f"points of exhibit {self.exhibit_id}"


class ShownFault(models.Model):
    """A fault that the educator says an exhibit shows, for plates and as the first proposal of a key.

    `regions` is a list of polygons [[x, y], …]; an empty list is a fault of the whole dog.
    """

    exhibit = models.ForeignKey(Exhibit, on_delete=models.CASCADE, related_name="shown_faults")
    fault = models.ForeignKey(Fault, on_delete=models.PROTECT, related_name="shown")
    clause = models.ForeignKey(Clause, null=True, blank=True, on_delete=models.SET_NULL, related_name="+")
    level = models.PositiveSmallIntegerField()
    regions = models.JSONField(default=list)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint("exhibit", "fault", name="one_shown_fault_per_exhibit")]

    def __str__(self) -> str:
        return f"{self.fault} on exhibit {self.exhibit_id}"
