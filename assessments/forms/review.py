"""Forms around a marked answer: the trainee's query, the mentor's comment and adjustment."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from assessments.models import Adjustment, Comment, Query


class QueryForm(forms.ModelForm):
    """A trainee's words on a mark."""

    class Meta:
        model = Query
        fields = ["text"]
        widgets = {"text": forms.Textarea(attrs={"rows": 3})}


class CommentForm(forms.ModelForm):
    """A mentor's words, with the spot they are pinned to, in units of the picture's longer side."""

    class Meta:
        model = Comment
        fields = ["text", "x", "y"]
        widgets = {
            "text": forms.Textarea(attrs={"rows": 3}),
            "x": forms.HiddenInput(),
            "y": forms.HiddenInput(),
        }

    def clean(self) -> dict[str, Any]:
        """A spot lies on the picture or there is none."""
        cleaned = super().clean() or {}
        spot = cleaned.get("x"), cleaned.get("y")
        if spot.count(None) == 1 or any(value is not None and not 0 <= value <= 1 for value in spot):
            raise forms.ValidationError(_("The spot is not on the picture. Pin the comment again."))
        return cleaned


class ReturnForm(forms.Form):
    """Give an answer back, with a changed mark if points are given; a change needs its reason."""

    what = forms.CharField(label=_("Adjust"), max_length=120, required=False)
    points = forms.DecimalField(
        label=_("Points"), max_digits=4, decimal_places=1, required=False, min_value=-100, max_value=100
    )
    reason = forms.CharField(
        label=_("Reason"), max_length=1000, required=False, widget=forms.Textarea(attrs={"rows": 2})
    )

    reply = forms.CharField(
        label=_("Your answer to the query"),
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 2}),
        error_messages={"required": _("Answer the query: the trainee reads it.")},
    )
    upheld = forms.BooleanField(
        label=_("The query is right: note it for the key’s next version"), required=False
    )

    def __init__(
        self, *args: Any, standing: Adjustment | None = None, asks: bool = False, **kwargs: Any
    ) -> None:
        if standing is not None:
            kwargs.setdefault(
                "initial",
                {"what": standing.what, "points": standing.points, "reason": standing.reason},
            )
        super().__init__(*args, **kwargs)
        self.fields["points"].widget.attrs["step"] = "0.1"
        if not asks:
            del self.fields["upheld"], self.fields["reply"]

    def clean(self) -> dict[str, Any]:
        """Points, what they are for and the reason come together or not at all."""
        cleaned = super().clean() or {}
        if "points" not in cleaned or not cleaned["points"]:
            if cleaned.get("what") or cleaned.get("reason"):
                self.add_error("points", _("Say how many points, or leave all three empty."))
            return cleaned
        if not cleaned.get("what"):
            self.add_error("what", _("Say what the points are for."))
        if not cleaned.get("reason"):
            self.add_error("reason", _("Give the reason: the trainee reads it."))
        return cleaned

    @property
    def settles(self) -> dict[str, Any]:
        """What is said of an open query, for `return_answer`; nothing where none is open."""
        return {name: self.cleaned_data[name] for name in ("upheld", "reply") if name in self.fields}

    @property
    def change(self) -> dict[str, Any] | None:
        """The adjustment that is asked for, or None."""
        points: Decimal | None = self.cleaned_data.get("points")
        return {name: self.cleaned_data[name] for name in ("what", "points", "reason")} if points else None
