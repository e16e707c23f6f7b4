"""What is asked of a drawn exhibit: a view, a coat, quantities that differ from the ideal, faults by degree.

The fields are named as they stand in the address: `p.layback=40`, `f.roached_back=0.6`, so that a drawing can be
linked to, previewed and kept from the same words.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from courses.figure import (
    COATS,
    MARKINGS,
    PARAMETERS,
    PRESETS,
    VIEWS,
    ImpossibleFigure,
    Parameter,
    Preset,
    Settings,
    apply_faults,
    ideal,
)
from courses.models.choices import View, Zone

STEPS = 100  # positions of a quantity's slider


class DrawingForm(forms.Form):
    """Reads a drawing from words, and refuses by name what cannot stand."""

    view = forms.ChoiceField(
        label=_("View"),
        choices=[(view, View(view).label) for view in VIEWS],
        initial="profile",
        required=False,
    )
    coat = forms.ChoiceField(label=_("Coat"), choices=list(COATS.items()), initial="saddle", required=False)
    markings = forms.ChoiceField(
        label=_("White"), choices=list(MARKINGS.items()), initial="none", required=False
    )
    seed = forms.IntegerField(
        label=_("Hair"),
        help_text=_("Another number lays the same dog’s hair another way."),
        min_value=1,
        max_value=9999,
        initial=1,
        required=False,
        widget=forms.NumberInput(attrs={"placeholder": "1"}),
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, parameter in PARAMETERS.items():
            self.fields[f"p.{name}"] = forms.FloatField(
                label=parameter.label, min_value=parameter.low, max_value=parameter.high, required=False
            )
        for key, preset in PRESETS.items():
            self.fields[f"f.{key}"] = forms.FloatField(
                label=preset.name, min_value=0, max_value=1, required=False
            )

    def clean(self) -> dict[str, Any]:
        """Adds `settings`, the figure to be drawn, and `faults`, their degrees above 0."""
        cleaned = super().clean() or {}
        faults = {
            key: cleaned[f"f.{key}"]
            for key, preset in PRESETS.items()
            if cleaned.get(f"f.{key}") and self.shown_view in preset.views
        }
        try:
            cleaned["settings"] = apply_faults(faults, self._base(cleaned))
        except ImpossibleFigure as impossible:
            raise forms.ValidationError(str(impossible), code="impossible") from impossible
        cleaned["faults"] = faults
        return cleaned

    def _base(self, cleaned: dict[str, Any]) -> Settings:
        values = {name: cleaned[f"p.{name}"] for name in PARAMETERS if cleaned.get(f"p.{name}") is not None}
        return ideal().with_(
            **values,
            coat=cleaned.get("coat") or "saddle",
            markings=cleaned.get("markings") or "none",
            seed=cleaned.get("seed") or 1,
        )

    @property
    def shown_view(self) -> str:
        """The view that is drawn, profile unless another known one is asked for."""
        asked = str(self.data.get("view") or "profile")
        return asked if asked in VIEWS else "profile"

    def quantities(self) -> Iterator[ZoneOfSliders]:
        """Sliders of the parameters that the view shows, zone by zone."""
        for zone in Zone:
            rows = [
                self._quantity(name, parameter)
                for name, parameter in PARAMETERS.items()
                if parameter.zone == zone and self.shown_view in parameter.views
            ]
            if rows:
                yield ZoneOfSliders(str(zone.label), rows)

    def faults(self) -> Iterator[ZoneOfSliders]:
        """Sliders of the faults that the view shows, zone by zone."""
        for zone in Zone:
            rows = [
                self._fault(key, preset)
                for key, preset in PRESETS.items()
                if preset.zone == zone and self.shown_view in preset.views
            ]
            if rows:
                yield ZoneOfSliders(str(zone.label), rows)

    def _quantity(self, name: str, parameter: Parameter) -> Slider:
        field = f"p.{name}"
        step = round((parameter.high - parameter.low) / STEPS, 6)
        return Slider(
            field,
            parameter.label,
            parameter.description,
            parameter.unit,
            parameter.low,
            parameter.high,
            step,
            parameter.ideal,
            self._given(field, parameter.ideal),
        )

    def _fault(self, key: str, preset: Preset) -> Slider:
        field = f"f.{key}"
        return Slider(field, preset.name, preset.opposite_virtue, "", 0, 1, 0.05, 0, self._given(field, 0))

    def _given(self, field: str, otherwise: float) -> float:
        try:
            return float(self.data.get(field, otherwise))
        except (TypeError, ValueError):
            return otherwise


@dataclass(frozen=True)
class Slider:
    """One quantity or fault on the page."""

    name: str
    label: str
    description: str
    unit: str
    low: float
    high: float
    step: float
    ideal: float
    value: float

    @property
    def moved(self) -> bool:
        """Whether it stands elsewhere than the ideal."""
        return abs(self.value - self.ideal) > 1e-9


@dataclass(frozen=True)
class ZoneOfSliders:
    """The sliders of one zone of the dog."""

    label: str
    rows: list[Slider]

    @property
    def moved(self) -> bool:
        """Whether any of them was moved; then the zone stands open."""
        return any(row.moved for row in self.rows)
