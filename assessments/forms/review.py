"""Forms around a marked answer."""

from __future__ import annotations

from django import forms

from assessments.models import Query


class QueryForm(forms.ModelForm):
    """A trainee's words on a mark."""

    class Meta:
        model = Query
        fields = ["text"]
        widgets = {"text": forms.Textarea(attrs={"rows": 3})}
