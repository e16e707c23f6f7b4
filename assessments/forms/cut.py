"""Whom to ask for estimates, and the estimates themselves."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext as now
from django.utils.translation import gettext_lazy as _

from assessments.models import Item
from assessments.queries.key_panels import possible_panellists
from shared.accounts.models import Club, Membership


class AskCutForm(forms.Form):
    """Members who estimate, each for themselves."""

    members = forms.ModelMultipleChoiceField(
        Membership.objects.none(),
        label=_("Panellists"),
        help_text=_("Five or more are customary. Each estimates alone."),
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": _("Choose at least two members.")},
    )

    def __init__(self, *args: Any, club: Club, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["members"].queryset = possible_panellists(club)
        self.fields["members"].label_from_instance = lambda member: str(member.person)


class EstimatesForm(forms.Form):
    """One whole per cent for each item; what is empty stays to be estimated."""

    def __init__(self, *args: Any, items: Sequence[Item], kept: Mapping[int, int], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for number, item in enumerate(items, start=1):
            self.fields[f"item-{item.pk}"] = forms.IntegerField(
                label=now("Item %(n)d") % {"n": number},
                required=False,
                min_value=0,
                max_value=100,
                initial=kept.get(item.pk),
                widget=forms.NumberInput(attrs={"inputmode": "numeric", "class": "input-short"}),
            )

    @property
    def estimates(self) -> dict[int, int]:
        """What was estimated so far, by item."""
        return {
            int(name.removeprefix("item-")): value
            for name, value in self.cleaned_data.items()
            if value is not None
        }
