"""Which answers of the queue, and in what order."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from assessments.queries.mentorships import mentees_of
from assessments.queries.queue import NEEDS, Wanted
from shared.accounts.models import Membership


class QueueForm(forms.Form):
    """Everything may be left out; an unknown value is as good as none."""

    need = forms.ChoiceField(
        choices=[("", "")] + [(need, need) for need in NEEDS], required=False, widget=forms.HiddenInput()
    )
    trainee = forms.ModelChoiceField(
        Membership.objects.none(), label=_("Trainee"), required=False, empty_label=_("all of yours")
    )
    days = forms.TypedChoiceField(
        label=_("Handed in"),
        required=False,
        coerce=int,
        empty_value=None,
        choices=[
            ("", _("at any time")),
            ("3", _("more than 3 days ago")),
            ("7", _("more than a week ago")),
            ("28", _("more than 4 weeks ago")),
        ],
    )
    order = forms.ChoiceField(
        label=_("Order"),
        required=False,
        choices=[("", _("what needs you most")), ("age", _("the oldest first"))],
    )

    def __init__(self, *args: Any, mentor: Membership, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["trainee"].queryset = mentees_of(mentor)
        self.fields["trainee"].label_from_instance = lambda member: str(member.person)

    @property
    def wanted(self) -> Wanted:
        """What was asked for."""
        self.is_valid()
        chosen = self.cleaned_data
        return Wanted(
            chosen.get("need") or "",
            chosen.get("days"),
            chosen.get("trainee"),
            chosen.get("order") == "age",
        )
