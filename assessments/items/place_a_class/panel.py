"""How a panel draws up the key of a class: each places it alone and says the cuts.

A marking is {"order": [exhibit id, …], "cuts": [number or None, …], "note": str}. What it amounts to is

    {"order": [exhibit id, …], "cuts": [number, …], "counted": [panellist id, …],
     "placings": [{"panellist": id, "order": […], "cuts": […]}, …]}

The faults of each exhibit are no part of it: they stay as the key before has them.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from assessments.items.keeping import drafted_so_far, marking_words
from assessments.items.panel import Finding, PanelMethod
from assessments.items.place_a_class.content import exhibits_of
from assessments.items.place_a_class.key import key_words, lacks, proposed, read_placing
from assessments.items.reading import key_parts, note_of, unreadable
from assessments.items.shuffling import order_for, shown_exhibits
from assessments.models import Key, KeyPanel, Panellist
from assessments.scoring.class_consensus import Placing, build_class_consensus
from courses.models import Exhibit


class ClassPanel(PanelMethod):
    """Placings and cuts; the consensus of `assessments.scoring.class_consensus`."""

    script = "assessments/looks.js"
    marking = "mark_class.html"
    own = "own_class.html"
    found = "_class_found.html"

    def read(self, panel: KeyPanel, sent: object) -> dict[str, Any]:
        """An order of the whole class and its cuts, as far as they are said."""
        parts = key_parts(sent)
        order, cuts = parts.get("order"), parts.get("cuts")
        if not isinstance(order, list) or not isinstance(cuts, list):
            raise unreadable()
        return {**read_placing(order, cuts, exhibits_of(panel.item)), "note": note_of(parts)}

    def lacks(self, content: dict[str, Any]) -> list[str]:
        """What a key would."""
        return lacks(content)

    def draw_up(self, panellist: Panellist) -> dict[str, Any]:
        """The class in an order drawn for this panellist, and what is placed so far."""
        exhibits = order_for(panellist)
        empty = {"order": exhibits, "cuts": [None] * (len(exhibits) - 1), "note": ""}
        return {"exhibits": exhibits, **drafted_so_far(panellist, panellist.content or empty)}

    def words(self) -> dict[str, str]:
        """Those of the key page, but for how a marking is kept."""
        return key_words() | marking_words()

    def show(self, panellist: Panellist) -> list[dict[str, Any]]:
        """The exhibits in one's order, each with the cut behind it."""
        item, content = panellist.panel.item, panellist.content
        exhibits = {exhibit.pk: exhibit for exhibit in shown_exhibits(item)}
        cuts = [*content["cuts"], None]
        return [
            {"letter": str(place), "regions": [], "exhibit": exhibits[pk], "cut": cut}
            for place, (pk, cut) in enumerate(zip(content["order"], cuts, strict=True), start=1)
        ]

    def find(self, panel: KeyPanel, markings: Mapping[int, dict[str, Any]]) -> Finding:
        """The consensus of the placings."""
        found = build_class_consensus(
            {one: Placing(content["order"], content["cuts"]) for one, content in markings.items()}
        )
        result = {
            "order": list(found.order),
            "cuts": [int(cut) if cut == int(cut) else cut for cut in found.cuts],
            "counted": list(markings),
            "placings": [
                {"panellist": one, "order": content["order"], "cuts": content["cuts"]}
                for one, content in markings.items()
            ],
        }
        return Finding(result, found.agreement, found.fit)

    def lay_out(self, panel: KeyPanel, finding: dict[str, Any]) -> dict[str, Any]:
        """The order proposed with its cuts, and each panellist's own."""
        exhibits = {exhibit.pk: exhibit for exhibit in shown_exhibits(panel.item)}
        seats = {seat.pk: seat for seat in panel.panellists.all()}
        return {
            "order": finding["order"],
            "places": _places(finding, exhibits),
            "panellists": [
                {"seat": seats[row["panellist"]], "places": _places(row, exhibits)}
                for row in finding["placings"]
                if row["panellist"] in seats
            ],
        }

    def propose(self, panel: KeyPanel, finding: dict[str, Any], standing: Key | None) -> dict[str, Any]:
        """The order and the cuts; total and faults as the key before has them."""
        before = standing.content if standing and standing.content else proposed(panel.item)
        content = {**before, "order": finding["order"], "cuts": finding["cuts"]}
        return {"sound": False, "content": content}

    def departures(self, key: Key) -> list[str]:
        """An order or cuts other than the panel's."""
        result, content = key.panel.result, key.content
        words = []
        if content.get("order") != result["order"]:
            words.append(_("the order is not the panel’s."))
        if content.get("cuts") != result["cuts"]:
            words.append(_("the cuts are not the panel’s."))
        return words


def _places(row: Mapping[str, Any], exhibits: Mapping[int, Exhibit]) -> list[tuple[Exhibit, float | None]]:
    return [
        (exhibits[pk], cut)
        for pk, cut in zip(row["order"], [*row["cuts"], None], strict=True)
        if pk in exhibits
    ]
