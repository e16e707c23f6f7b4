"""The choice of a mentor."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

from assessments.queries.mentorships import possible_mentors
from shared.accounts.models import Membership


class MentorForm(forms.Form):
    """One of the mentors who could be assigned to the trainee."""

    mentor = forms.ModelChoiceField(
        Membership.objects.none(),
        label=_("Mentor"),
        empty_label=_("Choose a mentor"),
        error_messages={
            "required": _("Choose a mentor."),
            "invalid_choice": _("Choose a mentor of the club."),
        },
    )

    def __init__(self, *args: object, trainee: Membership, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.fields["mentor"].queryset = possible_mentors(trainee)
        self.fields["mentor"].label_from_instance = lambda member: str(member.person)
