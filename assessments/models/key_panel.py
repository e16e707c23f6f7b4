"""Key panels: members who mark an item each for themselves, so that its key rests on what they agree on."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments.models.fit import Fit
from assessments.models.item import Item
from shared.accounts.models import Membership


class KeyPanel(models.Model):
    """One round of marking an item for its key. Once closed it is kept for good and never edited.

    `ladder` is the club's severity ladder of the day on which the panel was asked, and `zones` are those that
    the exhibit's view shows: markings mean them, whatever the club changes later. `result` is what the panel
    agrees on, in the shape that the item's kind gives it, kept when the panel is closed; so are `agreement`
    and `fit`. A panel that was called off has neither.
    """

    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="key_panels")
    number = models.PositiveIntegerField()
    word = models.TextField(_("word to the panel"), max_length=500, blank=True)
    wanted_by = models.DateField(_("wanted by"), null=True, blank=True)
    ladder = models.JSONField()
    zones = models.JSONField(default=list)
    opened_at = models.DateTimeField(default=timezone.now)
    closed_at = models.DateTimeField(null=True, blank=True)
    called_off = models.BooleanField(default=False)
    result = models.JSONField(default=dict, blank=True)
    agreement = models.FloatField(null=True, blank=True)
    fit = models.CharField(max_length=11, choices=Fit.choices, blank=True)

    class Meta:
        verbose_name = _("key panel")
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint("item", "number", name="one_key_panel_per_item_and_number"),
            models.UniqueConstraint("item", condition=Q(closed_at=None), name="one_open_key_panel_per_item"),
            models.CheckConstraint(
                name="a_key_panel_finds_nothing_before_it_is_closed",
                condition=Q(closed_at__isnull=False) | Q(fit="", agreement=None, called_off=False),
            ),
        ]

    def __str__(self) -> str:
        return f"panel {self.number} on item {self.item_id}"

    @property
    def open(self) -> bool:
        """Whether markings are still taken."""
        return self.closed_at is None


class Panellist(models.Model):
    """A member of a panel with their own marking, which nobody else sees before the panel is done.

    `content` has the shape that the item's kind gives it. `revision` counts its saves, `last_save` is the
    identity of the newest, so that one sent twice counts once.
    """

    panel = models.ForeignKey(KeyPanel, on_delete=models.PROTECT, related_name="panellists")
    member = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="key_panels")
    invited_at = models.DateTimeField(default=timezone.now)
    content = models.JSONField(default=dict, blank=True)
    revision = models.PositiveIntegerField(default=0)
    last_save = models.UUIDField(null=True, blank=True)
    saved_at = models.DateTimeField(null=True, blank=True)
    handed_in_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        verbose_name = _("panellist")
        ordering = ["pk"]
        constraints = [models.UniqueConstraint("panel", "member", name="one_seat_per_key_panel_and_member")]

    def __str__(self) -> str:
        return f"member {self.member_id} of panel {self.panel_id}"


class KeyPanelEvent(models.Model):
    """What happened on a panel, who did it and when: the record, to which rows are only added.

    `of` is the member whom an invitation is for. Looking at the markings is recorded once a day for each.
    """

    class What(models.TextChoices):
        INVITED = "invited", _("invited")
        OPENED = "opened", _("opened the exhibit")
        HANDED_IN = "handed in", _("handed in")
        TAKEN_BACK = "taken back", _("took it back")
        CLOSED = "closed", _("closed the panel")
        CALLED_OFF = "called off", _("called the panel off")
        LOOKED = "looked", _("looked at the panel’s markings")
        DRAFTED = "drafted", _("made it the draft key")

    panel = models.ForeignKey(KeyPanel, on_delete=models.PROTECT, related_name="events")
    what = models.CharField(max_length=10, choices=What.choices)
    by = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="+")
    of = models.ForeignKey(Membership, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["at", "pk"]

    def __str__(self) -> str:
        return f"{self.what} by member {self.by_id}"
