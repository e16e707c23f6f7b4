"""The form of how long things are kept."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

from assessments.models import KeepingRules
from courses.forms.permission import DateBox


class KeepingForm(forms.ModelForm):
    """From a day on; months, each empty where things are kept until somebody asks."""

    class Meta:
        model = KeepingRules
        fields = ["effective_from", "answers", "papers", "left"]
        widgets = {"effective_from": DateBox()}
        help_texts = {
            "effective_from": _("What is kept shorter begins 30 days from today at the earliest."),
            "answers": _("Months after a sitting in practice. Empty: until somebody asks."),
            "papers": _(
                "Months after a paper’s results are released. Attempts that are nobody’s any more no longer "
                "count for the regulations."
            ),
            "left": _("Months after leaving, until the person is erased."),
        }
