"""Reads about quizzes, items and keys."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from django.db.models import Count, Exists, OuterRef, Prefetch, Q, QuerySet, Subquery

from assessments.models import Item, Key, KeyEntry, Quiz, QuizItem
from courses.models import Exhibit, Place
from courses.queries.exhibit import with_pictures
from shared.accounts.models import Club

ENTRIES = Prefetch("entries", KeyEntry.objects.select_related("fault", "clause"))


def standing_keys() -> QuerySet[Key]:
    """Of each item the key in use and the draft, with their entries; older versions are left out."""
    newer = Key.objects.filter(item=OuterRef("item"), version__gt=OuterRef("version")).exclude(
        published_at=None
    )
    return (
        Key.objects.filter(discarded_at=None)
        .exclude(Exists(newer), ~Q(published_at=None))
        .prefetch_related(ENTRIES)
    )


def quizzes_of(club: Club) -> QuerySet[Quiz]:
    """All quizzes of the club for practice, with the number of their items; papers are apart."""
    return (
        Quiz.objects.filter(edition__breed__club=club, purpose=Quiz.Purpose.PRACTICE)
        .select_related("edition__breed", "place__module")
        .annotate(items_count=Count("quiz_items", distinct=True))
    )


def items_of(club: Club) -> QuerySet[Item]:
    """All items of the club, with exhibit and keys at hand."""
    return (
        Item.objects.filter(edition__breed__club=club)
        .select_related("exhibit", "clause", "edition__breed__club", "copied_from__edition")
        .prefetch_related(
            Prefetch("keys", Key.objects.prefetch_related(ENTRIES)),
            "exhibit__renditions",
            "exhibit__permissions",
            "item_exhibits__exhibit__renditions",
            "item_exhibits__exhibit__permissions",
        )
    )


def drafts_of_keys(club: Club) -> QuerySet[Key]:
    """Drafts of items that are not retired, the last saved first, each with its exhibit's pictures at hand."""
    return (
        Key.objects.filter(item__edition__breed__club=club, published_at=None, discarded_at=None)
        .exclude(item__state=Item.State.RETIRED)
        .select_related("item__exhibit", "item__clause")
        .prefetch_related("item__exhibit__renditions")
        .order_by("-saved_at", "-pk")
    )


def exhibits_to_add(quiz: Quiz, wanted: Mapping[str, object]) -> QuerySet[Exhibit]:
    """Exhibits of the quiz's breed that it does not hold yet, newest first, with the item they have.

    `wanted` may hold view and verdict. `known_item` is the exhibit's newest usable item of this edition.
    """
    usable = Item.objects.filter(
        edition=quiz.edition_id, exhibit=OuterRef("pk"), kind="mark-the-faults"
    ).exclude(state="retired")
    return (
        with_pictures(Exhibit.objects.filter(breed=quiz.edition.breed_id, **wanted))
        .exclude(state="withdrawn")
        .exclude(
            Exists(
                QuizItem.objects.filter(quiz=quiz, item__exhibit=OuterRef("pk"), item__kind="mark-the-faults")
            )
        )
        .annotate(known_item=Subquery(usable.order_by("-pk").values("pk")[:1]))
        .order_by("-number")
    )


def places_for_quizzes(club: Club) -> QuerySet[Place]:
    """The places of the club's modules that are made for a quiz, in the order of their courses."""
    return (
        Place.objects.filter(kind=Place.Kind.QUIZ, module__course__edition__breed__club=club)
        .select_related("module")
        .order_by("module__course", "module__position", "position", "pk")
    )


def quizzes_without_place(club: Club) -> QuerySet[Quiz]:
    """Quizzes that could still be given one."""
    free = Quiz.objects.filter(edition__breed__club=club, purpose=Quiz.Purpose.PRACTICE, place=None)
    return free.order_by("title", "pk")


def published_key(item: Item) -> Key | None:
    """The key in use: the newest published version."""
    return next((key for key in item.keys.all() if key.published_at), None)


def draft_key(item: Item) -> Key | None:
    """The version that the educator is at work on, if there is one."""
    return next((key for key in item.keys.all() if not key.published_at and not key.discarded_at), None)


def discarded_key(item: Item) -> Key | None:
    """The draft that was discarded last and can be taken back."""
    return next((key for key in item.keys.all() if key.discarded_at), None)


def quizzes_asking_about(exhibits: Collection[Exhibit]) -> dict[int, list[Quiz]]:
    """Exhibit's key to the quizzes that ask about it, each with `going`, its sittings under way."""
    going = Count("sittings", filter=Q(sittings__finished_at=None), distinct=True)
    singly = QuizItem.objects.filter(item__exhibit__in=exhibits).order_by()
    among = QuizItem.objects.filter(item__item_exhibits__exhibit__in=exhibits).order_by()
    pairs = list(
        singly.values_list("item__exhibit", "quiz").union(
            among.values_list("item__item_exhibits__exhibit", "quiz")
        )
    )
    quizzes = Quiz.objects.annotate(going=going).in_bulk([quiz for _exhibit, quiz in pairs])
    found: dict[int, list[Quiz]] = {exhibit.pk: [] for exhibit in exhibits}
    for exhibit, quiz in pairs:
        if exhibit in found:
            found[exhibit].append(quizzes[quiz])
    return found
