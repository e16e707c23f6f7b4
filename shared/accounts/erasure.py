"""How a person leaves a club's rows: each app says it of every field that points to a person or holds words.

An app has a module `erasure`, imported by its `AppConfig.ready`:

    points({"assessments.Comment.author": Way.STAYS, "assessments.Mentorship.trainee": Way.GOES})
    words({"assessments.Comment.text": Words.MAY_NAME, "assessments.Quiz.title": Words.NAME_NOBODY})

    @first
    def take_answers(membership) -> None: ...

    @against
    def what_is_under_way(membership) -> list[str]: ...

A test walks all models: a field that says nothing fails it. `first` functions take away what goes by a way of
its own, `against` ones say in words what must be done before somebody can be erased.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from enum import Enum

from django.apps import apps
from django.db import models

from shared.accounts.models import Club, Membership, Person


class Way(Enum):
    """What becomes of a row that points to a person or a membership."""

    STAYS = "stays: it is the club's record, and points to nobody's name"
    GOES = "goes with the person"
    OWN = "goes by a way of its own, which a function of the app takes"


class Words(Enum):
    """What becomes of words."""

    MAY_NAME = "stay without the person's name and address"
    GO = "go with the row, or by a function of the app"
    NAME_NOBODY = "say nothing of members"


POINTS: dict[str, Way] = {}
WORDS: dict[str, Words] = {}
FIRST: dict[str, Callable[[Membership], None]] = {}
AGAINST: dict[str, Callable[[Membership], list[str]]] = {}


def points(ways: Mapping[str, Way]) -> None:
    """Say of fields ("app.Model.field") that point to a person what becomes of their rows."""
    POINTS.update(ways)


def words(ways: Mapping[str, Words]) -> None:
    """Say of fields that hold words what becomes of them."""
    WORDS.update(ways)


def first(step: Callable[[Membership], None]) -> Callable[[Membership], None]:
    """Register what is done before rows go by what is said of them."""
    FIRST[f"{step.__module__}.{step.__qualname__}"] = step
    return step


def against(reasons: Callable[[Membership], list[str]]) -> Callable[[Membership], list[str]]:
    """Register what may stand against erasing somebody, each with what to do first."""
    AGAINST[f"{reasons.__module__}.{reasons.__qualname__}"] = reasons
    return reasons


def fields_that_point_to(target: type[models.Model]) -> Iterator[models.Field]:
    """Every foreign key of the club's own apps to persons or to memberships."""
    for model in _own_models():
        for field in model._meta.get_fields():
            if field.concrete and field.is_relation and field.related_model is target:
                yield field


def fields_with_words() -> Iterator[models.Field]:
    """Every field of the club's own apps that holds text longer than a code, or JSON."""
    for model in _own_models():
        for field in model._meta.concrete_fields:
            long = isinstance(field, models.CharField) and not field.choices and (field.max_length or 0) >= 80
            if isinstance(field, models.TextField | models.JSONField) or (
                long and not isinstance(field, models.EmailField)
            ):
                yield field


def label_of(field: models.Field) -> str:
    """The field as it is named here: "assessments.Comment.author"."""
    return f"{field.model._meta.label}.{field.name}"


def of_club(model: type[models.Model], club: Club) -> models.QuerySet:
    """The rows of a model that belong to a club."""
    return model._base_manager.filter(**{_way_to_club(model): club})


def _way_to_club(model: type[models.Model]) -> str:
    """The shortest chain of foreign keys to the club, as a lookup; by keys that may be empty only if need be."""
    way = _chain_to_club(model, empty=False) or _chain_to_club(model, empty=True)
    if way is None:
        raise LookupError(f"{model._meta.label} belongs to no club.")
    return way


def _chain_to_club(model: type[models.Model], *, empty: bool) -> str | None:
    seen, nearest = {model}, [(model, "")]
    while nearest:
        further = []
        for here, way in nearest:
            for key in here._meta.concrete_fields:
                if not key.is_relation or (key.null and not empty):
                    continue
                step = f"{way}__{key.name}".removeprefix("__")
                if key.related_model is Club:
                    return step
                if key.related_model not in seen | {Person}:
                    seen.add(key.related_model)
                    further.append((key.related_model, step))
        nearest = further
    return None


def _own_models() -> list[type[models.Model]]:
    foreign = {"admin", "auth", "contenttypes", "sessions", "account", "mfa", "django_tasks_database"}
    return [model for model in apps.get_models() if model._meta.app_label not in foreign]


points(
    {
        "accounts.Membership.person": Way.OWN,
        "accounts.Invitation.invited_by": Way.STAYS,
        "accounts.Invitation.accepted_by": Way.GOES,
        "accounts.ErasureRequest.membership": Way.GOES,
        "accounts.ErasureRequest.declined_by": Way.STAYS,
        "accounts.Erasure.by": Way.STAYS,
    }
)
words(
    {
        "accounts.Person.password": Words.GO,
        "accounts.Person.name": Words.GO,
        "accounts.Person.earlier_names": Words.GO,
        "accounts.Club.name": Words.NAME_NOBODY,
        "accounts.ErasureRequest.reason": Words.MAY_NAME,
    }
)
