"""Mentoring beside the answers: the club's own numbers, sessions, sign-offs."""

from __future__ import annotations

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments.models.quiz import Quiz
from courses.models import Module
from shared.accounts.models import Club, Membership


class MentoringRules(models.Model):
    """How a club mentors, from a day on; the newest begun holds.

    Of `sessions` counted sessions `ready` must end *ready*, spread over `months`. A panel has `panel_of`
    assessors of whom `panel_needed` must say *pass*; 0 where the club asks for none. `club_mark` is the pass
    mark out of 100 and `near` how close to it a result is looked at by a person, in points, where a quiz has
    no standard error of measurement of its own yet.
    """

    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="mentoring_rules")
    effective_from = models.DateField(_("in force from"))
    sessions = models.PositiveSmallIntegerField(
        _("sessions asked for"), default=3, validators=[MinValueValidator(1), MaxValueValidator(20)]
    )
    ready = models.PositiveSmallIntegerField(
        _("of which so many end ready"), default=2, validators=[MinValueValidator(1), MaxValueValidator(20)]
    )
    months = models.PositiveSmallIntegerField(
        _("spread over so many months"), default=12, validators=[MaxValueValidator(60)]
    )
    panel_of = models.PositiveSmallIntegerField(
        _("assessors on a panel"), default=0, validators=[MaxValueValidator(12)]
    )
    panel_needed = models.PositiveSmallIntegerField(
        _("of whom so many must say pass"), default=0, validators=[MaxValueValidator(12)]
    )
    club_mark = models.DecimalField(
        _("the club’s mark"),
        max_digits=4,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(100)],
    )
    near = models.DecimalField(
        _("near it means within"),
        max_digits=4,
        decimal_places=1,
        default=5,
        validators=[MinValueValidator(0), MaxValueValidator(50)],
    )
    made_by = models.ForeignKey(Membership, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField(default=timezone.now)

    class Meta:
        verbose_name = _("mentoring rules")
        ordering = ["-effective_from", "-pk"]
        constraints = [
            models.CheckConstraint(name="no_more_ready_than_sessions", condition=Q(ready__lte=F("sessions"))),
            models.CheckConstraint(
                name="a_club_s_panel_can_pass",
                condition=Q(panel_of=0, panel_needed=0)
                | Q(panel_needed__gte=1, panel_needed__lte=F("panel_of")),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.ready} of {self.sessions}, from {self.effective_from}"


class MentoringSession(models.Model):
    """A mentor and one trainee or several over the dogs: planned, then held, or struck out with a reason."""

    mentor = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="sessions_given")
    subject = models.CharField(_("subject"), max_length=160)
    group = models.BooleanField(_("group"), default=False)
    planned_for = models.DateField(_("planned for"), null=True, blank=True)
    held_on = models.DateField(_("held on"), null=True, blank=True)
    minutes = models.PositiveSmallIntegerField(
        _("minutes"), null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(720)]
    )
    made_at = models.DateTimeField(default=timezone.now)
    recorded_at = models.DateTimeField(null=True, blank=True)
    struck_at = models.DateTimeField(null=True, blank=True)
    struck_reason = models.CharField(_("reason"), max_length=300, blank=True)

    class Meta:
        verbose_name = _("mentoring session")
        ordering = ["-held_on", "-planned_for", "-pk"]
        constraints = [
            models.CheckConstraint(
                name="a_session_is_planned_or_held",
                condition=Q(planned_for__isnull=False) | Q(held_on__isnull=False),
            ),
            models.CheckConstraint(
                name="a_held_session_took_time",
                condition=Q(held_on=None, minutes=None) | Q(held_on__isnull=False, minutes__isnull=False),
            ),
        ]

    def __str__(self) -> str:
        return self.subject


class SessionTrainee(models.Model):
    """A trainee at a session: how it ended for them, and their own word on it.

    `own_…` is read by the trainee and the club's educators, not by the mentor, and counts for nothing.
    """

    class Ending(models.TextChoices):
        READY = "ready", _("ready")
        MORE = "needs more", _("needs more")

    session = models.ForeignKey(MentoringSession, on_delete=models.CASCADE, related_name="trainees")
    trainee = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="sessions_taken")
    ending = models.CharField(_("ends"), max_length=10, choices=Ending.choices, blank=True)
    reason = models.TextField(_("reason"), max_length=1000, blank=True)
    own_session = models.TextField(_("on the session"), max_length=1000, blank=True)
    own_mentor = models.TextField(_("on the mentor"), max_length=1000, blank=True)
    own_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["trainee__person__name", "pk"]
        constraints = [
            models.UniqueConstraint("session", "trainee", name="a_trainee_once_at_a_session"),
            models.CheckConstraint(name="an_ending_has_its_reason", condition=Q(ending="") | ~Q(reason="")),
        ]

    def __str__(self) -> str:
        return f"{self.trainee_id} at session {self.session_id}"


class SignOff(models.Model):
    """A mentor's word that a trainee has done with a module or a quiz; taken back only with a reason."""

    trainee = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="sign_offs")
    mentor = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="+")
    module = models.ForeignKey(
        Module, null=True, blank=True, on_delete=models.CASCADE, related_name="sign_offs"
    )
    quiz = models.ForeignKey(Quiz, null=True, blank=True, on_delete=models.CASCADE, related_name="sign_offs")
    on = models.DateField(_("date"))
    words = models.TextField(_("words"), max_length=1000)
    made_at = models.DateTimeField(default=timezone.now)
    taken_back_at = models.DateTimeField(null=True, blank=True)
    taken_back_by = models.ForeignKey(
        Membership, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    taken_back_reason = models.TextField(_("reason"), max_length=1000, blank=True)

    class Meta:
        verbose_name = _("sign-off")
        ordering = ["-on", "-pk"]
        constraints = [
            models.CheckConstraint(
                name="a_sign_off_is_of_a_module_or_a_quiz",
                condition=Q(module=None, quiz__isnull=False) | Q(module__isnull=False, quiz=None),
            ),
            models.UniqueConstraint(
                "trainee", "module", condition=Q(taken_back_at=None), name="a_module_is_signed_off_once"
            ),
            models.UniqueConstraint(
                "trainee", "quiz", condition=Q(taken_back_at=None), name="a_quiz_is_signed_off_once"
            ),
            models.CheckConstraint(
                name="what_is_taken_back_has_its_reason",
                condition=Q(taken_back_at=None) | (~Q(taken_back_reason="") & Q(taken_back_by__isnull=False)),
            ),
        ]

    def __str__(self) -> str:
        return f"sign-off {self.pk}"

    @property
    def of(self) -> Module | Quiz:
        """What was signed off."""
        return self.module or self.quiz
