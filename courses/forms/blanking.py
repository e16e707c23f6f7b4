"""What is to be blanked, as the page's script sends it."""

from __future__ import annotations

from django import forms


class Blanks(forms.Form):
    """Outlines as JSON, and the state of the picture on which they were drawn."""

    shapes = forms.JSONField(required=False, empty_value=[])
    seen = forms.CharField(max_length=80)
