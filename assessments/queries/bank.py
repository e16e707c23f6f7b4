"""The club's items as a bank: what each asks and holds, how hard it is, where it is used; found and put in order."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from typing import Any

from django.db.models import Count, Exists, F, OuterRef, Prefetch, Q, QuerySet, Subquery
from django.db.models.functions import Coalesce

from assessments.evidence import FEWEST
from assessments.models import Item, ItemExhibit, Key, KeyEntry, QuizItem
from assessments.queries.quizzes import draft_key, published_key, standing_keys
from assessments.statistics.item_analysis import EASY, HARD
from shared.accounts.models import Club

# How hard an item is, by the share of the marks won; the ends are those that the evidence flags.
DIFFICULTY: dict[str, Q] = {
    "too hard": Q(known_share__lt=HARD),
    "hard": Q(known_share__gte=HARD, known_share__lt=0.5),
    "middling": Q(known_share__gte=0.5, known_share__lt=0.8),
    "easy": Q(known_share__gte=0.8, known_share__lte=EASY),
    "too easy": Q(known_share__gt=EASY),
    "unknown": Q(known_share=None),
}
SORTS: dict[str, tuple[Any, ...]] = {
    "newest": ("-pk",),
    "exhibit": (F("exhibit__number").asc(nulls_last=True), "pk"),
    "clause": (
        F("clause__section__position").asc(nulls_last=True),
        F("clause__position").asc(nulls_last=True),
        "pk",
    ),
    "hardest": (F("known_share").asc(nulls_last=True), "pk"),
    "easiest": (F("known_share").desc(nulls_last=True), "pk"),
    "most used": ("-uses", "pk"),
}


# Where kinds keep what they ask in words.
ASKED_IN_WORDS = ("stem", "question", "text")


@dataclass(frozen=True)
class BankRow:
    """An item with the key in use and the draft in work, either of which may not be there."""

    item: Item
    in_use: Key | None
    draft: Key | None

    @property
    def key(self) -> Key | None:
        """The key that counts: the one in use, else the draft."""
        return self.in_use or self.draft

    @property
    def asks(self) -> str:
        """What it asks in words, if it does."""
        return next((str(said) for part in ASKED_IN_WORDS if (said := self.item.asking.get(part))), "")

    @property
    def faults(self) -> list[str]:
        """What the key names."""
        return [str(entry.fault) for entry in self.key.entries.all() if entry.fault] if self.key else []


def items_in_bank(club: Club) -> QuerySet[Item]:
    """All items of the club, each with `shown_key` (the id of the key in use, else of the draft), the `sound`
    and `fit` of it, `known_share` of the marks won (None while too few people answered), and in how many
    quizzes and papers it is asked, `uses`.
    """
    keys = Key.objects.filter(item=OuterRef("pk"), discarded_at=None)
    newest = keys.exclude(published_at=None).order_by("-version")
    shown = Coalesce(Subquery(newest.values("pk")[:1]), Subquery(keys.order_by("-version").values("pk")[:1]))
    uses = QuizItem.objects.filter(item=OuterRef("pk")).order_by().values("item")
    counted = Item.objects.filter(pk=OuterRef("pk"), facility__people__gte=FEWEST)
    return (
        Item.objects.filter(edition__breed__club=club)
        .annotate(
            shown_key=shown,
            known_share=Subquery(counted.values("facility__share")[:1]),
            uses=Coalesce(Subquery(uses.annotate(n=Count("pk")).values("n")), 0),
        )
        .annotate(
            sound=Subquery(Key.objects.filter(pk=OuterRef("shown_key")).values("sound")[:1]),
            fit=Subquery(newest.values("fit")[:1]),
        )
    )


def with_rows(items: QuerySet[Item]) -> QuerySet[Item]:
    """The same with all that `bank_row` and a list show, in a fixed number of queries."""
    return items.select_related("exhibit", "clause", "edition__breed", "facility").prefetch_related(
        Prefetch("keys", standing_keys()),
        Prefetch("item_exhibits", ItemExhibit.objects.select_related("exhibit")),
        "exhibit__renditions",
    )


def bank_row(item: Item) -> BankRow:
    """A row of an item from `with_rows`."""
    return BankRow(item, published_key(item), draft_key(item))


def narrowed(items: QuerySet[Item], wanted: Mapping[str, Any]) -> QuerySet[Item]:
    """Those that are as `wanted`, by the names of FILTERS; a name without a value narrows nothing."""
    for name, value in wanted.items():
        if value not in ("", None) and name in FILTERS:
            items = items.filter(FILTERS[name](value))
    return items


def sorted_by(items: QuerySet[Item], order: str) -> QuerySet[Item]:
    """In one of the orders of SORTS; the newest first for one that is not known."""
    return items.order_by(*SORTS.get(order, SORTS["newest"]))


def not_in(items: QuerySet[Item], quiz: int) -> QuerySet[Item]:
    """Those that could still be put into a quiz."""
    held = QuizItem.objects.filter(quiz=quiz, item=OuterRef("pk"))
    return items.exclude(Exists(held)).exclude(state=Item.State.RETIRED)


def ticked(club: Club, items: Collection[int]) -> list[Item]:
    """These items of the club, in the order of their numbers."""
    found = Item.objects.filter(edition__breed__club=club, pk__in=items).select_related("edition", "clause")
    return list(found.order_by("pk"))


def _entry(**wanted: Any) -> Q:
    """The key that counts has an entry like that."""
    return Q(Exists(KeyEntry.objects.filter(key=OuterRef("shown_key"), **wanted)))


def _about(value: str) -> Q:
    """ "s12" is a section, "c34" a clause: what the item is filed under or what its key names."""
    field, pk = ("clause__section" if value[:1] == "s" else "clause"), value[1:]
    if not pk.isdecimal() or len(pk) > 18:
        return Q(pk__in=[])
    return Q(**{field: int(pk)}) | _entry(**{field: int(pk)})


def _zone(value: str) -> Q:
    return Q(clause__zone=value) | _entry(zone=value)


def _fit(value: str) -> Q:
    return Q(fit="") | Q(fit=None) if value == "none" else Q(fit=value)


def _words(value: str) -> Q:
    """In its title, in what it asks, a fault's name, the numbers of its exhibits and clause, or its own."""
    found = Q(title__icontains=value) | _entry(fault__name__icontains=value) | Q(clause__number=value)
    for part in ASKED_IN_WORDS:
        found |= Q(**{f"asking__{part}__icontains": value})
    if value.isdecimal() and len(value) < 10:
        shown = ItemExhibit.objects.filter(item=OuterRef("pk"), exhibit__number=int(value))
        found |= Q(exhibit__number=int(value)) | Q(Exists(shown)) | Q(pk=int(value))
    return found


FILTERS: dict[str, Callable[[Any], Q]] = {
    "edition": lambda value: Q(edition=value),
    "about": _about,
    "zone": _zone,
    "kind": lambda value: Q(kind=value),
    "difficulty": lambda value: DIFFICULTY[value],
    "state": lambda value: Q(state=value),
    "fit": _fit,
    "holds": lambda value: Q(sound=value == "sound"),
    "use": lambda value: Q(uses__gt=0) if value == "used" else Q(uses=0),
    "words": _words,
}
