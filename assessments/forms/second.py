"""Forms of a second marking: asked for, given, settled."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from assessments.models import Answer, SecondMarking
from assessments.queries.second import possible_seconds
from shared.accounts.models import Membership


def points_field(label: Any, **kwargs: Any) -> forms.DecimalField:
    """A mark out of 100 to one decimal."""
    field = forms.DecimalField(
        label=label, max_digits=4, decimal_places=1, min_value=0, max_value=100, **kwargs
    )
    field.widget.attrs |= {"step": "0.1", "inputmode": "decimal"}
    return field


class AskSecondForm(forms.Form):
    """Who marks a second time, and why."""

    second = forms.ModelChoiceField(
        Membership.objects.none(),
        label=_("Second mentor"),
        empty_label=_("Choose a mentor"),
        error_messages={"invalid_choice": _("Choose a mentor who has not looked at it yet.")},
    )
    why = forms.CharField(
        label=_("Why a second marking"),
        max_length=300,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text=_("The second mentor reads this. Say nothing of the mark or of what you think of it."),
    )

    def __init__(self, *args: Any, answer: Answer, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["second"].queryset = possible_seconds(answer)
        self.fields["second"].label_from_instance = lambda member: str(member.person)


class GiveSecondForm(forms.Form):
    """The second mentor's own mark."""

    points = points_field(_("Your mark of 100"))
    words = forms.CharField(label=_("Why"), max_length=1000, widget=forms.Textarea(attrs={"rows": 4}))


class SettleForm(forms.Form):
    """Which mark stands, and why."""

    stands = forms.ChoiceField(
        label=_("Which mark stands?"),
        widget=forms.RadioSelect,
        error_messages={"required": _("Choose the mark that stands.")},
    )
    points = points_field(_("Another mark"), required=False)
    reason = forms.CharField(label=_("Reason"), max_length=1000, widget=forms.Textarea(attrs={"rows": 3}))

    def __init__(self, *args: Any, marking: SecondMarking, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["stands"].choices = [
            ("first", _("The first, %(n)s") % {"n": marking.first_points}),
            ("second", _("The second, %(n)s") % {"n": marking.second_points}),
            ("other", _("Another")),
        ]

    def clean(self) -> dict[str, Any]:
        """Another mark is given exactly where it stands."""
        cleaned = super().clean() or {}
        other = cleaned.get("stands") == "other"
        if other and cleaned.get("points") is None and "points" not in self.errors:
            self.add_error("points", _("Give the mark that stands."))
        if not other and cleaned.get("points") is not None:
            self.add_error("stands", _("A mark is given below: choose “Another”, or leave it empty."))
        return cleaned
