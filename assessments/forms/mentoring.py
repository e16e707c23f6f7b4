"""Forms of mentoring: a session planned and recorded, the trainee's word, sign-offs, the club's rules."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments.actions.mentoring import NO_GROUP, End
from assessments.models import MentoringRules, MentoringSession, Quiz, SessionTrainee, SignOff
from assessments.queries.mentoring import modules_to_sign_off, quizzes_to_sign_off
from assessments.queries.mentorships import mentees_of
from courses.forms.permission import DateBox
from courses.models import Module
from shared.accounts.models import Membership
from shared.web.limits import TRAINEES_PER_SESSION


class PlanForm(forms.ModelForm):
    """Who, when, about what."""

    trainees = forms.ModelMultipleChoiceField(
        Membership.objects.none(),
        label=_("Trainees"),
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": _("Choose at least one trainee.")},
    )

    class Meta:
        model = MentoringSession
        fields = ["trainees", "subject", "planned_for", "group"]
        widgets = {"planned_for": DateBox()}
        labels = {
            "planned_for": _("Day"),
            "subject": _("Subject"),
            "group": _("A group session"),
        }
        help_texts = {
            "planned_for": _("A day that is past can be recorded at once."),
            "group": _("With more than two trainees. Of several group sessions one counts for each of them."),
        }

    def __init__(self, *args: Any, mentor: Membership, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["trainees"].queryset = mentees_of(mentor)
        self.fields["trainees"].label_from_instance = lambda member: str(member.person)
        self.fields["planned_for"].required = True

    def clean(self) -> dict[str, Any]:
        """Not too many, and a group where there are more than two."""
        cleaned = super().clean() or {}
        chosen = list(cleaned.get("trainees") or [])
        if len(chosen) > TRAINEES_PER_SESSION:
            self.add_error(
                "trainees", _("At most %(n)s trainees at one session.") % {"n": TRAINEES_PER_SESSION}
            )
        elif len(chosen) > NO_GROUP and not cleaned.get("group"):
            self.add_error("group", _("With more than two trainees it is a group session: tick this."))
        return cleaned | {"trainees": chosen}


class HoldForm(forms.Form):
    """When it was held, how long, and how it ended for each trainee."""

    held_on = forms.DateField(label=_("Held on"), widget=DateBox())
    minutes = forms.IntegerField(label=_("Minutes"), min_value=1, max_value=720)

    def __init__(self, *args: Any, session: MentoringSession, **kwargs: Any) -> None:
        day = min(session.planned_for or timezone.localdate(), timezone.localdate())
        kwargs.setdefault("initial", {"held_on": day})
        super().__init__(*args, **kwargs)
        self.rows = list(session.trainees.all())
        for row in self.rows:
            self.fields[f"ending-{row.pk}"] = forms.ChoiceField(
                label=_("It ends"),
                choices=SessionTrainee.Ending.choices,
                widget=forms.RadioSelect,
                error_messages={"required": _("Say how it ended.")},
            )
            self.fields[f"reason-{row.pk}"] = forms.CharField(
                label=_("Why"),
                max_length=1000,
                widget=forms.Textarea(attrs={"rows": 3}),
                error_messages={"required": _("Give the reason: the trainee reads it.")},
            )

    @property
    def people(self) -> list[tuple[SessionTrainee, Any, Any]]:
        """Each trainee's row with their two fields."""
        return [(row, self[f"ending-{row.pk}"], self[f"reason-{row.pk}"]) for row in self.rows]

    def clean_held_on(self) -> Any:
        """Not a day to come."""
        day = self.cleaned_data["held_on"]
        if day > timezone.localdate():
            raise forms.ValidationError(_("This day is still to come."))
        return day

    @property
    def ends(self) -> dict[int, End]:
        """For `hold_session`."""
        said = self.cleaned_data
        return {row.pk: End(said[f"ending-{row.pk}"], said[f"reason-{row.pk}"]) for row in self.rows}


class StrikeForm(forms.Form):
    """Why a session does not count, or a sign-off does not stand."""

    reason = forms.CharField(
        label=_("Reason"),
        max_length=300,
        widget=forms.Textarea(attrs={"rows": 2}),
        error_messages={"required": _("Give the reason: it stays on record.")},
    )


class OwnWordForm(forms.ModelForm):
    """A trainee's words on a session and on its mentor."""

    class Meta:
        model = SessionTrainee
        fields = ["own_session", "own_mentor"]
        widgets = {
            "own_session": forms.Textarea(attrs={"rows": 4}),
            "own_mentor": forms.Textarea(attrs={"rows": 4}),
        }
        labels = {"own_session": _("On the session"), "own_mentor": _("On the mentor")}


class SignOffForm(forms.ModelForm):
    """A module or a quiz, the day and the words."""

    class Meta:
        model = SignOff
        fields = ["module", "quiz", "on", "words"]
        widgets = {"on": DateBox(), "words": forms.Textarea(attrs={"rows": 3})}
        labels = {"module": _("Module"), "quiz": _("Quiz or paper"), "on": _("Day"), "words": _("Words")}

    def __init__(self, *args: Any, trainee: Membership, **kwargs: Any) -> None:
        kwargs.setdefault("initial", {"on": timezone.localdate()})
        super().__init__(*args, **kwargs)
        self.fields["module"].queryset = modules_to_sign_off(trainee)
        self.fields["quiz"].queryset = quizzes_to_sign_off(trainee)
        self.fields["module"].empty_label = self.fields["quiz"].empty_label = _("none")

    def clean(self) -> dict[str, Any]:
        """Exactly one of the two, not ahead of time."""
        cleaned = super().clean() or {}
        if bool(cleaned.get("module")) == bool(cleaned.get("quiz")) and not {"module", "quiz"} & set(
            self.errors
        ):
            self.add_error("module", _("Choose a module or a quiz, one of the two."))
        if cleaned.get("on") and cleaned["on"] > timezone.localdate():
            self.add_error("on", _("A sign-off is not dated ahead."))
        return cleaned

    def _post_clean(self) -> None:
        """The row is made by its action: nothing is checked against the table here."""

    @property
    def of(self) -> Module | Quiz:
        """What is signed off."""
        return self.cleaned_data["module"] or self.cleaned_data["quiz"]


class RulesForm(forms.ModelForm):
    """How the club mentors, from a day on."""

    class Meta:
        model = MentoringRules
        fields = [
            "effective_from",
            "sessions",
            "ready",
            "months",
            "panel_of",
            "panel_needed",
            "club_mark",
            "near",
        ]
        widgets = {"effective_from": DateBox()}
        help_texts = {
            "panel_of": _("0 where the club asks for no panel."),
            "club_mark": _("Out of 100; left empty, no result is near it."),
            "near": _(
                "Points. Where enough people have answered a quiz, its standard error of measurement is "
                "taken instead."
            ),
        }

    def clean(self) -> dict[str, Any]:
        """No more of anything than there is."""
        cleaned = super().clean() or {}
        ready, sessions = cleaned.get("ready"), cleaned.get("sessions")
        if ready is not None and sessions is not None and ready > sessions:
            self.add_error("ready", _("No more can end ready than sessions are asked for."))
        of, needed = cleaned.get("panel_of"), cleaned.get("panel_needed")
        if of and needed is not None and not 1 <= needed <= of:
            self.add_error("panel_needed", _("At least one, and no more than sit on the panel."))
        if of == 0 and needed:
            self.add_error("panel_needed", _("Without a panel nobody has to say pass: 0."))
        return cleaned
