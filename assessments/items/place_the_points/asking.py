"""Which points are asked, on an exhibit in a view that shows the withers and the ground."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from assessments.items.asking import AskingForm
from assessments.items.place_the_points.points import VIEWS, asked_points
from assessments.models import Item
from courses.measures.points import POINTS
from courses.models import Exhibit


def _field(view: str) -> forms.MultipleChoiceField:
    return forms.MultipleChoiceField(
        choices=[(point.name, _(point.label)) for point in POINTS[view]],
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )


class PointsAskingForm(AskingForm):
    """One list of points for each view; that of the exhibit's view counts."""

    profile = _field("profile")
    front = _field("front")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["profile"].label = _("Points in profile")
        self.fields["front"].label = _("Points from the front")

    def clean_exhibits(self) -> list[Exhibit]:
        """One whose view shows how high the dog stands."""
        chosen = super().clean_exhibits()
        if chosen[0].view not in VIEWS:
            raise forms.ValidationError(
                _(
                    "Points count in heights at the withers: take an exhibit in profile or from the front, which "
                    "shows the withers and the ground."
                )
            )
        return chosen

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        chosen = said.get("exhibits")
        if chosen and not said.get(chosen[0].view):
            self.add_error(chosen[0].view, _("Tick at least one point."))
        return said

    def asking(self) -> dict[str, Any]:
        """The points of the exhibit's view."""
        return {"points": self.cleaned_data[self.cleaned_data["exhibits"][0].view]}

    def initial_of(self, item: Item) -> dict[str, Any]:
        """The points asked, in the list of the exhibit's view."""
        return super().initial_of(item) | {item.exhibit.view: asked_points(item)}
