"""What is asked: {"stem": Markdown, "several": bool, "options": [{"id": …, "text": …}, …]}.

The identities of options are drawn by lot, so that they tell nothing, and stay with their line of the form.
"""

from __future__ import annotations

from secrets import token_hex
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from assessments.items.asking import AskingForm
from assessments.models import Item
from shared.web.limits import OPTIONS_PER_ITEM

LEAST_OPTIONS = 2


class ChoosingForm(AskingForm):
    """The question and its options. Which of them are right is for the key."""

    stem = forms.CharField(
        label=_("Question"),
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=_("Markdown may be used. Ask for what the standard says; no tricks."),
    )
    several = forms.TypedChoiceField(
        label=_("How many may be chosen"),
        choices=[("", _("one")), ("several", _("several"))],
        coerce=lambda value: value == "several",
        empty_value=False,
        required=False,
        widget=forms.RadioSelect,
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for place in range(OPTIONS_PER_ITEM):
            self.fields[_name(place)] = forms.CharField(
                label=_("Option %(n)d") % {"n": place + 1},
                max_length=300,
                required=place < LEAST_OPTIONS,
                widget=forms.TextInput(attrs={"autocomplete": "off"}),
            )

    @property
    def option_fields(self) -> list[forms.BoundField]:
        """The lines for options, in order."""
        return [self[_name(place)] for place in range(OPTIONS_PER_ITEM)]

    def clean(self) -> dict[str, Any]:
        """Two options that read alike could not be told apart."""
        cleaned = super().clean() or self.cleaned_data
        texts: set[str] = set()
        for place in range(OPTIONS_PER_ITEM):
            text = " ".join((cleaned.get(_name(place)) or "").casefold().split())
            if text and text in texts:
                self.add_error(_name(place), _now("This option is there already."))
            texts.add(text)
        return cleaned

    def asking(self) -> dict[str, Any]:
        """See the module; an empty line is no option."""
        known = self.item.asking.get("options", []) if self.item else []
        options = [
            {"id": _identity(known, place), "text": text}
            for place in range(OPTIONS_PER_ITEM)
            if (text := self.cleaned_data[_name(place)])
        ]
        return {
            "stem": self.cleaned_data["stem"],
            "several": self.cleaned_data["several"],
            "options": options,
        }

    def initial_of(self, item: Item) -> dict[str, Any]:
        """The lines as they were."""
        kept = {_name(place): option["text"] for place, option in enumerate(item.asking["options"])}
        several = "several" if item.asking["several"] else ""
        return super().initial_of(item) | kept | {"stem": item.asking["stem"], "several": several}


def _name(place: int) -> str:
    return f"option_{place + 1}"


def _identity(known: list[dict[str, str]], place: int) -> str:
    return known[place]["id"] if place < len(known) else token_hex(4)
