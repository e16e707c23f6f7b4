"""The field for a new password, the same wherever one is chosen."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

HINT = _("At least 10 characters. Not a password that many people use, and not your name or address.")


class NewPasswordField(forms.CharField):
    """A password that is being chosen. It can be shown while typing, so it is asked for once."""

    def __init__(self, **options: object) -> None:
        widget = forms.PasswordInput(attrs={"autocomplete": "new-password"})
        given = {
            "label": _("Password"),
            "help_text": HINT,
            "widget": widget,
            "strip": False,
            "max_length": 200,
        }
        super().__init__(**(given | options))
