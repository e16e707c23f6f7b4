"""Confirming that somebody is erased, and declining it."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.accounts.models import Person


class EraseForm(forms.Form):
    """The name, typed by whoever erases."""

    name = forms.CharField(
        label=_("Type the name to erase this person for good"),
        max_length=254,
        widget=forms.TextInput(attrs={"autocomplete": "off", "spellcheck": "false"}),
        error_messages={"required": _("Type the name.")},
    )

    def __init__(self, *args: Any, person: Person, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.person = person

    def clean_name(self) -> str:
        """As it stands on the page, whatever the case of its letters."""
        typed = " ".join(self.cleaned_data["name"].split())
        if typed.casefold() != " ".join(str(self.person).split()).casefold():
            raise forms.ValidationError(
                _now("This is not the name: type “%(name)s”."), params={"name": str(self.person)}
            )
        return typed


class DeclineForm(forms.Form):
    """Why the club cannot do it now; the member reads it."""

    reason = forms.CharField(
        label=_("Why not"),
        max_length=300,
        widget=forms.Textarea(attrs={"rows": 2}),
        error_messages={"required": _("Give the reason: the member reads it.")},
    )
