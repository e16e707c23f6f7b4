"""The key:

    {"order": [exhibit id, best first, …], "cuts": [number or None, …], "total": points of a perfect placing,
     "faults": {exhibit id: [{"fault": id, "level": 0…n-1}, …]}}

A draft may lack cuts. An exhibit without a fault is sound.
"""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from assessments.items.keeping import drafted_so_far, drafting_words
from assessments.items.mark_the_faults.asking import fault_choices
from assessments.items.place_a_class.asking import asks_findings
from assessments.items.place_a_class.content import exhibits_of
from assessments.items.reading import id_of, key_parts, note_of, number_of, refused, rows_of, unreadable
from assessments.items.shuffling import shown_exhibits
from assessments.models import Item, Key
from assessments.scoring.placing import check_cuts
from courses.models import Fault
from courses.queries.severity import ladder_of
from shared.web.limits import FAULTS_PER_KEY

HIGHEST = 1000  # of a cut and of the total


def usual_total(exhibits: int) -> int:
    """The points of a perfect placing unless the key says otherwise: 50 as for a class of four, 100 for more."""
    return 50 if exhibits <= 4 else 100


def propose(key: Key) -> None:
    """The exhibits in the item's order without cuts, each with the faults that it is said to show."""
    key.content = proposed(key.item)
    key.save(update_fields=["content"])


def proposed(item: Item) -> dict[str, Any]:
    """What a key begins with."""
    rows = item.item_exhibits.select_related("exhibit").prefetch_related("exhibit__shown_faults__fault")
    faults = {
        str(row.exhibit_id): [
            {"fault": shown.fault_id, "level": shown.level if shown.level is not None else shown.fault.level}
            for shown in row.exhibit.shown_faults.all()
        ]
        for row in rows
    }
    order = [row.exhibit_id for row in rows]
    return {
        "order": order,
        "cuts": [None] * (len(order) - 1),
        "total": usual_total(len(order)),
        "faults": faults if asks_findings(item) else {},
    }


def read_key(sent: object, item: Item, levels: int) -> dict[str, Any]:
    """What `save_draft` takes; KeyRefused where it cannot be."""
    parts, shown = key_parts(sent), exhibits_of(item)
    order, cuts, faults = parts.get("order"), parts.get("cuts"), parts.get("faults")
    if not isinstance(order, list) or not isinstance(cuts, list) or not isinstance(faults, dict):
        raise unreadable()
    content = {
        **read_placing(order, cuts, shown),
        "total": _total(parts.get("total")),
        "faults": {str(exhibit): _faults(faults.get(str(exhibit), []), levels) for exhibit in shown},
    }
    _check_named(content["faults"], item)
    return {"sound": False, "note": note_of(parts), "content": content}


def read_placing(order: list[object], cuts: list[object], shown: list[int]) -> dict[str, Any]:
    """An order of all that is shown, and the cuts between neighbours in it; KeyRefused where it is none."""
    placed = [id_of(exhibit) for exhibit in order]
    if sorted(map(str, placed)) != sorted(map(str, shown)) or len(cuts) != len(shown) - 1:
        raise unreadable()
    return {"order": placed, "cuts": [_cut(cut) for cut in cuts]}


def _cut(value: object) -> float | None:
    if value is None:
        return None
    cut = number_of(value)
    if cut is None or not 0 <= cut <= HIGHEST:
        raise refused(_("A cut is a number from 0 up; 0 lets the pair stand either way."))
    return _plain(cut)


def _total(value: object) -> float:
    total = number_of(value)
    if total is None or not 0 < total <= HIGHEST:
        raise refused(_("The points of a perfect placing are a number above 0."))
    return _plain(total)


def _plain(number: float) -> float:
    """5 for 5.0, as people write it."""
    return int(number) if number == int(number) else number


def _faults(sent: object, levels: int) -> list[dict[str, Any]]:
    given = rows_of(sent, FAULTS_PER_KEY)
    rows = [{"fault": id_of(row.get("fault")), "level": row.get("level")} for row in given]
    for row in rows:
        if isinstance(row["level"], bool) or row["level"] not in range(levels) or row["fault"] is None:
            raise unreadable()
    if len({row["fault"] for row in rows}) < len(rows):
        raise refused(_("A fault is entered once for each exhibit."))
    return rows


def _check_named(faults: dict[str, list[dict[str, Any]]], item: Item) -> None:
    named = {row["fault"] for rows in faults.values() for row in rows}
    if Fault.objects.filter(breed=item.edition.breed_id, pk__in=named).count() < len(named):
        raise refused(_("A fault that is not on the club’s list was named."))


def drawn_up(key: Key) -> dict[str, Any]:
    """The club's faults, the ladder, and the key so far."""
    edition = key.item.edition
    shown_exhibits(key.item)
    return {
        "faults": fault_choices(edition.breed_id),
        "levels": list(ladder_of(edition.breed.club).labels),
        "most": FAULTS_PER_KEY,
        **drafted_so_far(key, {**key.content, "note": key.note}),
    }


def lacks(content: dict[str, Any]) -> list[str]:
    """In words: every cut, and one above 0 at least."""
    cuts = content.get("cuts", [])
    if None in cuts or not cuts:
        return [key_words()["no_cuts"]]
    return [] if any(cuts) else [key_words()["no_order"]]


def warned(key: Key) -> list[str]:
    """What the handbooks forbid in these cuts, see `check_cuts`."""
    cuts = key.content["cuts"]
    return [] if None in cuts else check_cuts(cuts, key.content["total"])


def shown(key: Key) -> dict[str, Any]:
    """The order, each exhibit with the cut behind it and its faults; and what to think over."""
    faults = key.content["faults"]
    ids = {row["fault"] for rows in faults.values() for row in rows}
    known = Fault.objects.select_related("clause").in_bulk(ids)
    places = [
        {
            "exhibit": exhibit,
            "cut": cut,
            "faults": [
                (known[row["fault"]], row["level"])
                for row in faults.get(str(exhibit), [])
                if row["fault"] in known
            ],
        }
        for exhibit, cut in zip(key.content["order"], [*key.content["cuts"], None], strict=True)
    ]
    exhibits = {exhibit.pk: exhibit for exhibit in shown_exhibits(key.item)}
    return {
        "places": places,
        "exhibits": exhibits,
        "order": key.content["order"],
        "total": key.content["total"],
        "warned": warned(key),
    }


def key_words() -> dict[str, str]:
    """What the key page's script says; what stands in braces is filled in by it."""
    return drafting_words() | {
        "no_cuts": _("Say the cut between each pair of neighbours."),
        "no_order": _("Every cut is 0, so that any order would do: give one above 0."),
        "cut": _("{above} over {below}"),
        "placed": _("{letter} stands {n} of {of}."),
        "row": _("{letter}, place {n}. Alt with arrow keys moves it, a number gives it that place."),
        "none": _("No fault entered: sound."),
        "remove": _("Remove {name} from {letter}"),
        "level": _("Severity of {name}"),
        "faults_of": _("Faults of {letter}"),
    }
