"""What the educator says of a critique to be written, and what the trainee is given to write it with."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from assessments.items.asking import AskingForm
from assessments.items.keeping import kept_so_far
from assessments.items.write_a_critique.parts import part_words, parts_asked
from assessments.models import Answer, Item
from courses.models import Exhibit
from shared.web.limits import CRITIQUE_PART


class CritiqueAsking(AskingForm):
    """One exhibit, or several in the placing that is to be explained."""

    placing = forms.CharField(
        label=_("Placing, first to last"),
        max_length=80,
        required=False,
        help_text=_(
            "The numbers of the exhibits in the order in which they are placed, as 12, 7. Of one: empty."
        ),
    )
    stem = forms.CharField(
        label=_("What trainees are told besides"),
        max_length=500,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
    )

    def clean(self) -> dict[str, Any]:
        """Several exhibits stand in the order of their placing."""
        said = super().clean() or {}
        chosen: list[Exhibit] = said.get("exhibits", [])
        if len(chosen) > 1 and "placing" not in self.errors:
            by_number = {str(exhibit.number): exhibit for exhibit in chosen}
            given = said.get("placing", "").replace(",", " ").split()
            if sorted(given) != sorted(by_number):
                self.add_error(
                    "placing", _("Place each of the ticked exhibits once: its number, in its order.")
                )
            else:
                said["exhibits"] = [by_number[number] for number in given]
        return said

    def asking(self) -> dict[str, Any]:
        """The words besides."""
        return {"stem": self.cleaned_data["stem"].strip()}

    def initial_of(self, item: Item) -> dict[str, Any]:
        """The placing in numbers, and the words."""
        placed = [str(row.exhibit.number) for row in item.item_exhibits.all()]
        own = {"stem": item.asking.get("stem", ""), "placing": ", ".join(placed if len(placed) > 1 else [])}
        return super().initial_of(item) | own


def asked(answer: Answer) -> dict[str, Any]:
    """The parts with their names and hints, the limit, and what is kept so far."""
    names = parts_asked(answer.item)
    words = part_words()
    return {
        "parts": [{"name": name, "label": words[name][0], "hint": words[name][1]} for name in names],
        "most": CRITIQUE_PART,
        **kept_so_far(answer, {"parts": dict.fromkeys(names, "")}),
    }
