"""People, clubs, and what a person is in a club."""

from __future__ import annotations

import zoneinfo
from typing import ClassVar

from django.contrib.auth.models import AbstractBaseUser, BaseUserManager, PermissionsMixin
from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from shared.accounts.names import FormerName, PersonName
from shared.accounts.roles import Role


class People(BaseUserManager["Person"]):
    """Persons are found by e-mail whatever its letter case."""

    def create_user(self, email: str, password: str | None = None, **fields: object) -> Person:
        if not email:
            raise ValueError("A person needs an e-mail address.")
        person = self.model(email=self.normalize_email(email).lower(), **fields)
        person.set_password(password)
        person.save(using=self._db)
        return person

    def create_superuser(self, email: str, password: str | None = None, **fields: object) -> Person:
        return self.create_user(email, password, is_staff=True, is_superuser=True, **fields)

    def get_by_natural_key(self, email: str | None) -> Person:
        return self.get(email__iexact=email)


class Person(AbstractBaseUser, PermissionsMixin):
    """Someone who signs in. What they may do is said by their memberships, never here."""

    email = models.EmailField(_("email address"), unique=True)
    name = PersonName(_("name"), max_length=120)
    earlier_names = models.JSONField(
        default=list, editable=False, help_text=_("Notices and the record of marks may still hold them.")
    )
    is_active = models.BooleanField(default=True)
    is_staff = models.BooleanField(default=False, help_text=_("May open the operators' pages."))
    date_joined = models.DateTimeField(default=timezone.now)

    objects: ClassVar[People] = People()
    USERNAME_FIELD = "email"
    EMAIL_FIELD = "email"
    REQUIRED_FIELDS = ["name"]

    class Meta:
        verbose_name = _("person")
        verbose_name_plural = _("people")
        constraints = [models.UniqueConstraint(Lower("email"), name="one_person_per_email")]

    def __str__(self) -> str:
        return self.name or self.email

    @property
    def short_name(self) -> str:
        """Such as "M. Flett", where a label must be small; a single word stays as it is."""
        if isinstance(self.name, FormerName):
            return str(self)
        first, _, others = str(self).partition(" ")
        return f"{first[0]}. {others}" if others else first


def check_time_zone(name: str) -> None:
    """Refuse a name that the time zone database does not know."""
    if name not in zoneinfo.available_timezones():
        raise ValidationError(_("%(name)s is not a time zone."), params={"name": name})


class Club(models.Model):
    """A breed club: everything that is taught or asked belongs to one."""

    name = models.CharField(_("name"), max_length=120)
    slug = models.SlugField(_("address"), unique=True, max_length=60)
    time_zone = models.CharField(
        _("time zone"), max_length=60, default="Europe/London", validators=[check_time_zone]
    )
    created_at = models.DateTimeField(default=timezone.now)

    class Meta:
        verbose_name = _("club")
        verbose_name_plural = _("clubs")
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class Membership(models.Model):
    """One person in one club, with one role or several. Kept after leaving, since marks point to it.

    A `nameless` one stands for somebody erased: what it did for the club stays, who it was is on no row.
    """

    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="memberships")
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="memberships")
    trainee = models.BooleanField(_("trainee"), default=False)
    educator = models.BooleanField(_("educator"), default=False)
    mentor = models.BooleanField(_("mentor"), default=False)
    secretary = models.BooleanField(_("secretary"), default=False)
    joined_at = models.DateTimeField(default=timezone.now)
    left_at = models.DateTimeField(null=True, blank=True)
    nameless = models.BooleanField(default=False, editable=False)

    class Meta:
        verbose_name = _("membership")
        verbose_name_plural = _("memberships")
        constraints = [
            models.UniqueConstraint("club", "person", name="one_membership_per_club_and_person"),
            models.CheckConstraint(
                name="a_member_holds_a_role",
                condition=Q(trainee=True) | Q(educator=True) | Q(mentor=True) | Q(secretary=True),
            ),
            models.CheckConstraint(
                name="the_nameless_have_left", condition=Q(nameless=False) | Q(left_at__isnull=False)
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person}, {self.club}"

    @property
    def role_words(self) -> str:
        """The roles in words, for lists: "trainee, mentor"."""
        return ", ".join(str(role.label) for role in Role if role in self.roles)

    @property
    def roles(self) -> frozenset[Role]:
        """The roles held; none after leaving."""
        if self.left_at:
            return frozenset()
        return frozenset(role for role in Role if getattr(self, role.value))


class Invitation(models.Model):
    """A link that makes its bearer a member in one role, once. Only the SHA-256 of its token is kept."""

    class State(models.TextChoices):
        OPEN = "open", _("open")
        ACCEPTED = "accepted", _("accepted")
        WITHDRAWN = "withdrawn", _("withdrawn")
        EXPIRED = "expired", _("run out")

    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="invitations")
    role = models.CharField(_("role"), max_length=12, choices=Role.choices)
    email = models.EmailField(_("email address"), blank=True)
    token_hash = models.CharField(max_length=64, unique=True, editable=False)
    invited_by = models.ForeignKey(
        Person,
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="+",
        help_text=_("Empty where an operator made the club."),
    )
    created_at = models.DateTimeField(default=timezone.now)
    expires_at = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    accepted_at = models.DateTimeField(null=True, blank=True)
    accepted_by = models.ForeignKey(Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        verbose_name = _("invitation")
        verbose_name_plural = _("invitations")
        ordering = ["-created_at", "-pk"]

    def __str__(self) -> str:
        return f"{self.club}, {self.get_role_display()}"

    @property
    def role_work(self) -> str:
        """What whoever accepts will do in the club."""
        return str(Role(self.role).work)

    @property
    def state(self) -> State:
        """What the link is good for at this moment."""
        if self.accepted_at:
            return self.State.ACCEPTED
        if self.withdrawn_at:
            return self.State.WITHDRAWN
        return self.State.OPEN if self.expires_at > timezone.now() else self.State.EXPIRED


class ErasureRequest(models.Model):
    """A member asks the club to erase what it holds of them. It goes with them when they are erased."""

    membership = models.ForeignKey(Membership, on_delete=models.CASCADE, related_name="erasure_requests")
    asked_at = models.DateTimeField(default=timezone.now)
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    declined_at = models.DateTimeField(null=True, blank=True)
    declined_by = models.ForeignKey(
        Membership, null=True, blank=True, on_delete=models.SET_NULL, related_name="+"
    )
    reason = models.CharField(_("reason"), max_length=300, blank=True)

    class Meta:
        verbose_name = _("request to be erased")
        ordering = ["-pk"]
        constraints = [
            models.UniqueConstraint(
                "membership",
                condition=Q(withdrawn_at=None, declined_at=None),
                name="one_open_request_to_be_erased",
            ),
            models.CheckConstraint(
                name="who_declines_says_why", condition=Q(declined_at=None) | ~Q(reason="")
            ),
        ]

    def __str__(self) -> str:
        return f"request of member {self.membership_id}"


class Erasure(models.Model):
    """That somebody was erased, when and by whom: never who. `by` is empty where the club's period ended."""

    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="erasures")
    at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(Membership, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    asked_on = models.DateField(null=True, blank=True)

    class Meta:
        verbose_name = _("erasure")
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"erasure {self.pk}"
