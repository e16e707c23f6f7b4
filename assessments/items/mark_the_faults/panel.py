"""How a panel draws up the key of a mark-the-faults item: each marks faults as a key has them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from assessments.items.keeping import marking_words
from assessments.items.mark_the_faults.key_words import key_words
from assessments.items.mark_the_faults.panel_content import marked_up, missing_in, read_marking
from assessments.items.mark_the_faults.panel_finding import departures_of, found_by, proposed
from assessments.items.mark_the_faults.panel_page import laid_out
from assessments.items.panel import Finding, PanelMethod
from assessments.models import Item, Key, KeyPanel, Panellist
from assessments.rules import letter
from assessments.snapshots import Sought
from courses.models.choices import Zone
from courses.queries.zone_map import VISIBLE_ZONES


class FaultPanel(PanelMethod):
    """Regions, faults, clauses and severities, or "sound"; the consensus of `assessments.scoring.consensus`."""

    marking = "mark_faults.html"
    own = "own_faults.html"
    found = "_faults_found.html"
    sought: Sought = "fault"

    def zones(self, item: Item) -> list[str]:
        """Those that the exhibit's view shows, in the order in which a dog is gone over."""
        return [zone for zone in Zone.values if zone in VISIBLE_ZONES[item.exhibit.view]]

    def read(self, panel: KeyPanel, sent: object) -> dict[str, Any]:
        """See `read_marking`."""
        return read_marking(panel, sent, self.sought)

    def lacks(self, content: dict[str, Any]) -> list[str]:
        """See `missing_in`."""
        return missing_in(content, self.sought)

    def draw_up(self, panellist: Panellist) -> dict[str, Any]:
        """See `marked_up`."""
        return marked_up(panellist, self.sought)

    def words(self) -> dict[str, str]:
        """Those of the key page, but for how a marking is kept."""
        own = {
            "sound": _("You would mark no fault."),
            "aside": _("The faults entered below are set aside, not lost."),
            "missing_entries": _("Mark the faults, or say that the exhibit is sound."),
        }
        return key_words(self.sought) | marking_words() | own

    def show(self, panellist: Panellist) -> list[dict[str, Any]]:
        """The faults with their letters; none of a marking that finds the exhibit sound."""
        content = panellist.content
        entries = [] if content.get("sound") else content.get("entries", [])
        return [{"letter": letter(place), **row} for place, row in enumerate(entries)]

    def find(self, panel: KeyPanel, markings: Mapping[int, dict[str, Any]]) -> Finding:
        """See `found_by`."""
        return found_by(panel, markings, self.sought)

    def lay_out(self, panel: KeyPanel, finding: dict[str, Any]) -> dict[str, Any]:
        """See `laid_out`."""
        return laid_out(panel, finding)

    def propose(self, panel: KeyPanel, finding: dict[str, Any], standing: Key | None) -> dict[str, Any]:
        """See `proposed`."""
        return proposed(panel, finding, standing, self.sought)

    def departures(self, key: Key) -> list[str]:
        """See `departures_of`."""
        return departures_of(key, self.sought)

    def outlines(self, panel: KeyPanel) -> list[list[list[float]]]:
        """Of all faults, whether they are in the key or not."""
        marked = [row for group in panel.result["groups"] for row in group["marked"]]
        return [part for row in marked for part in row["regions"]]


class VirtuePanel(FaultPanel):
    """The same for virtues: each counts as much as the panellist says, and there may be none worth a name."""

    marking = "mark_virtues.html"
    sought: Sought = "virtue"

    def words(self) -> dict[str, str]:
        """Those of faults, with what is sought called by its name."""
        return super().words() | {
            "sound": _("You would name no virtue."),
            "aside": _("The virtues entered below are set aside, not lost."),
            "missing_entries": _("Mark the virtues, or say that you would name none."),
        }
