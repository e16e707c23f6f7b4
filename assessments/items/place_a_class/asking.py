"""What is asked: {"findings": "counted" | "beside" | "none"}, of three to eight exhibits.

Findings and placing stand on sheets of their own. Where both count each counts half, as placings and reasons do
in livestock judging: 50 points each (common practice).
"""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from assessments.items.asking import AskingForm
from assessments.models import Item

SHARES = {"counted": 0.5, "beside": 0.0, "none": 0.0}


class ClassForm(AskingForm):
    """The exhibits, and whether findings are asked."""

    findings = forms.ChoiceField(
        label=_("Findings"),
        choices=[
            ("counted", _("asked, and count for half of the mark")),
            ("beside", _("asked, and shown beside the mark; the placing alone counts")),
            ("none", _("not asked")),
        ],
        initial="counted",
        widget=forms.RadioSelect,
        help_text=_("Findings say what is there, fault by fault, before the class is placed."),
    )

    def asking(self) -> dict[str, Any]:
        """See the module."""
        return {"findings": self.cleaned_data["findings"]}

    def initial_of(self, item: Item) -> dict[str, Any]:
        """As it was."""
        return super().initial_of(item) | {"findings": item.asking["findings"]}


def share_of(item: Item) -> float:
    """What the findings count."""
    return SHARES[item.asking["findings"]]


def asks_findings(item: Item) -> bool:
    """Whether findings are asked at all."""
    return item.asking["findings"] != "none"
