"""How a panel draws up the key of a pair: each chooses alone, and says the clause.

A marking is {"exhibit": id, "clause": id, "also": [], "note": str}. What it amounts to is

    {"exhibit": id | None, "clause": id | None, "counted": [panellist id, …],
     "chosen": [{"panellist": id, "exhibit": id, "clause": id, "number": str}, …]}
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from assessments.items.keeping import drafted_so_far, marking_words
from assessments.items.panel import Finding, PanelMethod
from assessments.items.shuffling import order_for, shown_exhibits
from assessments.items.which_of_the_pair.key import EMPTY, clause_choices, key_words, lacks, read_key
from assessments.models import Key, KeyPanel, Panellist
from assessments.scoring.pair_consensus import build_pair_consensus
from courses.models import Clause


class PairPanel(PanelMethod):
    """The better exhibit and its clause; the consensus of `assessments.scoring.pair_consensus`."""

    script = "assessments/looking.js"
    marking = "mark_pair.html"
    own = "own_pair.html"
    found = "_pair_found.html"

    def read(self, panel: KeyPanel, sent: object) -> dict[str, Any]:
        """As a key without other clauses."""
        read = read_key(sent, panel.item)
        return {**read["content"], "also": [], "note": read["note"]}

    def lacks(self, content: dict[str, Any]) -> list[str]:
        """What a key would."""
        return lacks(content)

    def draw_up(self, panellist: Panellist) -> dict[str, Any]:
        """The two in an order drawn for this panellist, the clauses, and what is said so far."""
        return {
            "exhibits": order_for(panellist),
            "clauses": clause_choices(panellist.panel.item),
            "most": 0,
            **drafted_so_far(panellist, {**EMPTY, "note": "", **panellist.content}),
        }

    def words(self) -> dict[str, str]:
        """Those of the key page, but for how a marking is kept."""
        return key_words() | marking_words()

    def show(self, panellist: Panellist) -> list[dict[str, Any]]:
        """The exhibit and the clause."""
        content = panellist.content
        exhibits = {exhibit.pk: exhibit for exhibit in shown_exhibits(panellist.panel.item)}
        clause = Clause.objects.select_related("edition__breed").filter(pk=content["clause"]).first()
        return [{"letter": "", "regions": [], "exhibit": exhibits.get(content["exhibit"]), "clause": clause}]

    def find(self, panel: KeyPanel, markings: Mapping[int, dict[str, Any]]) -> Finding:
        """The consensus of the choices, clauses under their numbers of today."""
        named = {content["clause"] for content in markings.values()}
        numbers = dict(Clause.objects.filter(pk__in=named).values_list("pk", "number"))
        said = {
            one: (content["exhibit"], numbers.get(content["clause"], "")) for one, content in markings.items()
        }
        found = build_pair_consensus(said)
        ids = {number: pk for pk, number in numbers.items()}
        result = {
            "exhibit": found.exhibit,
            "clause": ids.get(found.clause or ""),
            "counted": list(markings),
            "chosen": [
                {"panellist": one, "exhibit": exhibit, "clause": markings[one]["clause"], "number": number}
                for one, (exhibit, number) in said.items()
            ],
        }
        return Finding(result, found.agreement, found.fit)

    def lay_out(self, panel: KeyPanel, finding: dict[str, Any]) -> dict[str, Any]:
        """The pair, which is proposed by which clause, and what each panellist chose."""
        exhibits = shown_exhibits(panel.item)
        by_id = {exhibit.pk: exhibit for exhibit in exhibits}
        seats = {seat.pk: seat for seat in panel.panellists.all()}
        clauses = Clause.objects.select_related("edition__breed").filter(pk=finding["clause"])
        return {
            "order": [exhibit.pk for exhibit in exhibits],
            "exhibit": by_id.get(finding["exhibit"]),
            "clause": clauses.first(),
            "panellists": [
                {
                    "seat": seats[row["panellist"]],
                    "exhibit": by_id.get(row["exhibit"]),
                    "number": row["number"],
                }
                for row in finding["chosen"]
                if row["panellist"] in seats
            ],
        }

    def propose(self, panel: KeyPanel, finding: dict[str, Any], standing: Key | None) -> dict[str, Any]:
        """The exhibit and the clause; other clauses accepted as the key before has them."""
        before = standing.content.get("also", []) if standing else []
        also = [row for row in before if row["clause"] != finding["clause"]]
        content = {"exhibit": finding["exhibit"], "clause": finding["clause"], "also": also}
        return {"sound": False, "content": content}

    def departures(self, key: Key) -> list[str]:
        """Another exhibit or clause than the panel's."""
        result, words = key.panel.result, []
        if key.content.get("exhibit") != result["exhibit"]:
            words.append(_("the better exhibit is not the panel’s."))
        if key.content.get("clause") != result["clause"]:
            words.append(_("the clause is not the panel’s."))
        return words
