"""What is drawn for the demo: one figure is one view of one dog with the faults put on it. No Django here."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from courses.figure import Settings, apply_faults, ideal

# Upright sheets are drawn narrower: their longer side is what a screen has room for.
WIDTHS = {"front": 1200, "rear": 1200}
USUAL_WIDTH = 1600


@dataclass(frozen=True)
class Figure:
    """A picture to draw. `faults` are presets of the drawn figure with their degrees, already in `settings`."""

    view: str
    settings: Settings
    faults: tuple[tuple[str, float], ...] = ()

    @property
    def key(self) -> str:
        """The same for the same picture: 16 hexadecimal digits from the view and the settings."""
        said = json.dumps([self.view, _rounded(self.settings.to_dict())], sort_keys=True)
        return hashlib.sha256(said.encode()).hexdigest()[:16]

    @property
    def width(self) -> int:
        """In pixels, at its finest."""
        return WIDTHS.get(self.view, USUAL_WIDTH)


def plate_figure(plate: Mapping[str, Any], exhibit: Mapping[str, Any]) -> Figure:
    """An exhibit of a plate: the ideal dog in the plate's coat and markings unless the exhibit says others."""
    said = {**plate, **exhibit}
    dog = ideal().with_(**{name: said[name] for name in ("coat", "markings") if name in said})
    return _with_faults(plate["view"], dog, exhibit.get("faults", {}))


def item_figure(item: Mapping[str, Any], dog: Mapping[str, Any]) -> Figure:
    """The exhibit of a quiz's item: one of the sound dogs, with the item's faults put on it."""
    look = {name: value for name, value in dog.items() if name != "values"}
    sound = ideal().with_(**dog.get("values", {}), **look)
    return _with_faults(item["view"], sound, item.get("faults", {}))


def _with_faults(view: str, dog: Settings, faults: Mapping[str, float]) -> Figure:
    return Figure(view, apply_faults(faults, dog), tuple(faults.items()))


def _rounded(data: Mapping[str, Any]) -> dict[str, Any]:
    """Values to six digits, so that the last bit of a sum does not make another picture of it."""
    return {**data, "values": {name: round(value, 6) for name, value in data["values"].items()}}
