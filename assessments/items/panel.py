"""What an item kind offers so that a panel can draw up its keys.

A kind that takes panels has one of these as its `panel`. The rest (inviting, saving, handing in, closing, the
record, the pages around) asks it and knows nothing of faults.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from assessments.models import Item, Key, KeyPanel, Panellist
from assessments.scoring.consensus import Fit


@dataclass(frozen=True)
class Finding:
    """What a panel agrees on: `result` as JSON in the kind's shape, the agreement and what it makes fit for."""

    result: dict[str, Any]
    agreement: float | None
    fit: Fit


class PanelMethod(ABC):
    """How panellists mark one kind of item, and what their markings amount to.

    `marking` and `own` are templates below templates/assessments/key_panel for whoever marks: while they mark,
    and when they have. `found` is the fragment that shows an educator what the panel agrees on, `script` what it
    needs.
    """

    script: str = "assessments/key_panel.js"
    marking: str
    own: str
    found: str

    def zones(self, item: Item) -> list[str]:
        """The zones that are kept with a new panel, where they are the units in which its agreement is measured."""
        return []

    @abstractmethod
    def read(self, panel: KeyPanel, sent: object) -> dict[str, Any]:
        """A marking in its kept shape, from what the browser sent; KeyRefused where it cannot be."""

    @abstractmethod
    def lacks(self, content: dict[str, Any]) -> list[str]:
        """What a marking still needs before it can be handed in, in words."""

    @abstractmethod
    def draw_up(self, panellist: Panellist) -> dict[str, Any]:
        """What the marking page's script needs, as JSON; nothing of a key or of another's marking is in it."""

    @abstractmethod
    def words(self) -> dict[str, str]:
        """What that script says, in the reader's language."""

    @abstractmethod
    def show(self, panellist: Panellist) -> list[dict[str, Any]]:
        """One's own marking for its read-only page."""

    @abstractmethod
    def find(self, panel: KeyPanel, markings: Mapping[int, dict[str, Any]]) -> Finding:
        """What these markings, by panellist's id, amount to. At least one is given."""

    @abstractmethod
    def lay_out(self, panel: KeyPanel, finding: dict[str, Any]) -> dict[str, Any]:
        """A finding for the fragment `found`; `panel.panellists` are at hand with their members."""

    @abstractmethod
    def propose(self, panel: KeyPanel, finding: dict[str, Any], standing: Key | None) -> dict[str, Any]:
        """What `save_draft` takes of a finding, but for its note. `standing` is the key before it, if any."""

    @abstractmethod
    def departures(self, key: Key) -> list[str]:
        """Where a key differs from the finding of its panel, in words."""

    def outlines(self, panel: KeyPanel) -> list[list[list[float]]]:
        """Each panellist's own regions, where they lie on the picture while its key is settled."""
        return []


def departures(method: PanelMethod | None, key: Key) -> list[str]:
    """Where a key departs from its panel, in words; nothing for a key without one."""
    return [] if method is None or key.panel is None else method.departures(key)


def unexplained(method: PanelMethod | None, key: Key) -> list[str]:
    """What a draft from a panel lacks before it can be published: a word on where it departs from the panel."""
    if key.note.strip():
        return []
    return [_("Say in the note why: %(what)s") % {"what": words} for words in departures(method, key)]
