"""What is asked: {"question": words}, about two exhibits in the same view."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from assessments.items.asking import AskingForm
from assessments.models import Item
from courses.models import Exhibit


class PairForm(AskingForm):
    """Two exhibits and, if it helps, what to look at."""

    question = forms.CharField(
        label=_("What to look at"),
        max_length=200,
        required=False,
        help_text=_("Shown above the pair, such as “Look at the forequarters.” May stay empty."),
    )

    def clean_exhibits(self) -> list[Exhibit]:
        """Only what is seen from the same side can be compared."""
        pair = super().clean_exhibits()
        if len({exhibit.view for exhibit in pair}) > 1:
            raise forms.ValidationError(_now("Both exhibits must show the same view."))
        return pair

    def asking(self) -> dict[str, Any]:
        """See the module."""
        return {"question": self.cleaned_data["question"]}

    def initial_of(self, item: Item) -> dict[str, Any]:
        """The words as they were."""
        return super().initial_of(item) | {"question": item.asking["question"]}
