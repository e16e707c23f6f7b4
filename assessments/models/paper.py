"""Examination papers: the club's regulations, a paper's plan and draw, its candidates, sittings and results."""

from __future__ import annotations

import datetime

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments.models.quiz import Quiz
from assessments.models.sitting import Answer, Sitting
from shared.accounts.models import Club, Membership


class Regulations(models.Model):
    """What the club lays down for examinations, from a day on. Versions are never edited.

    Each sitting keeps the version in force when it began. No number here is a rule of the product's.
    """

    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="regulations")
    effective_from = models.DateField(_("in force from"))
    pass_mark = models.DecimalField(
        _("pass mark"),
        max_digits=4,
        decimal_places=1,
        validators=[MinValueValidator(1), MaxValueValidator(100)],
    )
    attempts = models.PositiveSmallIntegerField(
        _("attempts allowed"), null=True, blank=True, validators=[MinValueValidator(1)]
    )
    wait_days = models.PositiveSmallIntegerField(
        _("days between attempts"), default=0, validators=[MaxValueValidator(3_650)]
    )
    discloses_mark = models.BooleanField(_("candidates are told their mark"), default=False)
    basis = models.CharField(_("where this is laid down"), max_length=300, blank=True)
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField(default=timezone.now)

    class Meta:
        verbose_name = _("regulations")
        verbose_name_plural = _("regulations")
        ordering = ["-effective_from", "-pk"]
        constraints = [
            models.CheckConstraint(
                name="a_pass_mark_is_a_percentage", condition=Q(pass_mark__gte=1, pass_mark__lte=100)
            ),
        ]

    def __str__(self) -> str:
        return f"{self.club}, from {self.effective_from}"


class Paper(models.Model):
    """What makes a quiz an examination paper: its plan, the draw from the bank, its time and its window.

    `plan` is a list of rows {"section": id or None, "kind": name, "sound": bool, "wanted": n}; `rows` says
    for each drawn item, by its id, which row it fills. `seed` gave the draw and gives each candidate's order;
    `swapped_out` are items that were changed for others. Set for candidates, the draw stands.
    """

    quiz = models.OneToOneField(Quiz, on_delete=models.CASCADE, related_name="paper")
    plan = models.JSONField(default=list, blank=True)
    rows = models.JSONField(default=dict, blank=True)
    swapped_out = models.JSONField(default=list, blank=True)
    seed = models.PositiveIntegerField(null=True, blank=True)
    drawn_at = models.DateTimeField(null=True, blank=True)
    minutes = models.PositiveSmallIntegerField(
        _("minutes"), default=60, validators=[MinValueValidator(1), MaxValueValidator(600)]
    )
    opens_at = models.DateTimeField(_("can be begun from"), null=True, blank=True)
    closes_at = models.DateTimeField(_("can be begun until"), null=True, blank=True)
    set_at = models.DateTimeField(null=True, blank=True)
    set_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    released_at = models.DateTimeField(null=True, blank=True, help_text=_("When the results were released."))
    released_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    class Meta:
        verbose_name = _("examination paper")
        constraints = [
            models.CheckConstraint(
                name="a_paper_opens_before_it_closes",
                condition=Q(opens_at=None) | Q(closes_at=None) | Q(opens_at__lt=models.F("closes_at")),
            ),
            models.CheckConstraint(
                name="results_are_of_a_paper_that_was_set", condition=Q(released_at=None) | ~Q(set_at=None)
            ),
        ]

    def __str__(self) -> str:
        return self.quiz.title


class Candidate(models.Model):
    """A member invited to a paper, who goes by a number from then on."""

    paper = models.ForeignKey(Paper, on_delete=models.CASCADE, related_name="candidates")
    member = models.ForeignKey(Membership, on_delete=models.PROTECT, related_name="candidatures")
    number = models.PositiveSmallIntegerField(_("number"))
    extra_minutes = models.PositiveSmallIntegerField(
        _("extra minutes"), default=0, validators=[MaxValueValidator(600)]
    )
    extra_percent = models.PositiveSmallIntegerField(
        _("extra per cent"), default=0, validators=[MaxValueValidator(200)]
    )
    invited_at = models.DateTimeField(default=timezone.now)
    invited_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        verbose_name = _("candidate")
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint("paper", "member", name="a_member_once_among_the_candidates"),
            models.UniqueConstraint("paper", "number", name="a_number_for_one_candidate"),
        ]

    def __str__(self) -> str:
        return f"candidate {self.number}"

    @property
    def time(self) -> datetime.timedelta:
        """The paper's time with what this candidate was granted."""
        minutes = self.paper.minutes
        return datetime.timedelta(minutes=minutes + minutes * self.extra_percent / 100 + self.extra_minutes)


class PaperSitting(models.Model):
    """What a sitting of a paper has besides: its declaration, its end, and how it came to be handed in.

    `ends_at` is empty for answers that were given on paper and are typed in by stewards, `typed_by`.
    `settled` is a person's word on a borderline result before it is released.
    """

    class Handed(models.TextChoices):
        CANDIDATE = "candidate", _("handed in")
        TIME = "time", _("when the time was over")
        STEWARD = "steward", _("typed in from paper")

    class Settled(models.TextChoices):
        PASS = "pass", _("pass")
        REFER = "refer", _("refer")

    sitting = models.OneToOneField(Sitting, on_delete=models.CASCADE, related_name="of_paper")
    candidate = models.OneToOneField(Candidate, on_delete=models.PROTECT, related_name="sitting")
    regulations = models.ForeignKey(Regulations, on_delete=models.PROTECT, related_name="sittings")
    declaration = models.TextField(blank=True, help_text=_("The words that the candidate accepted."))
    ends_at = models.DateTimeField(null=True, blank=True, db_index=True)
    handed_in = models.CharField(max_length=9, choices=Handed.choices, blank=True)
    typed_by = models.ManyToManyField(Membership, related_name="+")
    settled = models.CharField(max_length=5, choices=Settled.choices, blank=True)
    settled_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    settled_note = models.TextField(_("reason"), max_length=1000, blank=True)

    class Meta:
        verbose_name = _("sitting of a paper")

    def __str__(self) -> str:
        return f"{self.candidate} in sitting {self.sitting_id}"


class PaperResult(models.Model):
    """What was released to a candidate. A later release writes a further row; the newest counts.

    `score`, `pass_mark` and `sem` are fractions of the paper.
    """

    class Decision(models.TextChoices):
        PASS = "pass", _("pass")
        REFER = "refer", _("refer")
        BORDERLINE = "borderline", _("borderline")

    sitting = models.ForeignKey(PaperSitting, on_delete=models.CASCADE, related_name="results")
    score = models.FloatField()
    pass_mark = models.FloatField()
    sem = models.FloatField(null=True, blank=True)
    decision = models.CharField(max_length=10, choices=Decision.choices)
    settled = models.BooleanField(default=False, help_text=_("A person decided a borderline result."))
    released_at = models.DateTimeField(default=timezone.now)

    class Meta:
        verbose_name = _("result")
        ordering = ["-pk"]
        constraints = [
            models.CheckConstraint(name="a_result_is_a_fraction", condition=Q(score__gte=0, score__lte=1)),
        ]

    def __str__(self) -> str:
        return f"{self.decision} of {self.sitting_id}"

    @property
    def percent(self) -> float:
        """The score out of 100."""
        return self.score * 100


class LateAnswer(models.Model):
    """What came after the end of a sitting: kept for the club to see, never marked."""

    answer = models.OneToOneField(Answer, on_delete=models.CASCADE, related_name="late")
    content = models.JSONField()
    received_at = models.DateTimeField(default=timezone.now)

    class Meta:
        verbose_name = _("late answer")

    def __str__(self) -> str:
        return f"late for answer {self.answer_id}"
