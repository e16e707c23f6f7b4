"""The day's page of a club: the apps register what stands on it.

An app has a module `home`, imported by its `AppConfig.ready`, whose functions are registered by decorators:

    @part(roles={Role.TRAINEE}, order=110)
    def where_you_stopped(request) -> Part | None:
        return Part("courses/home/_stopped.html", {"plate": plate})

    @waiting(roles={Role.EDUCATOR}, order=220)
    def permissions_that_end(request) -> list[Waiting]: ...

A function is asked once for each page, and only for someone who holds one of its roles in `request.club`. It
reads at most ROWS rows of anything, in at most QUERIES_PER_PART queries however many rows there are (a test
counts them). A part's template finds what the function gave under `part`: `{{ part.plate }}`. A function with
nothing to show answers None to stay away, or `empty(...)` to say what will be here and what to do first.

Orders: 100 to 199 trainee, 200 to 299 educator, 300 to 399 mentor, 400 to 499 secretary.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from django.http import HttpRequest

from shared.accounts.roles import Role

ROWS = 5
QUERIES_PER_PART = 6
Column = Literal["main", "side"]


@dataclass(frozen=True)
class Part:
    """A section of the page: a template, and what it finds under `part`."""

    template: str
    context: Mapping[str, object] = field(default_factory=dict)


@dataclass(frozen=True)
class Waiting:
    """One thing that waits for the person: what, why it matters, and the one verb that deals with it."""

    what: str
    detail: str
    url: str
    verb: str
    picture: str = ""


@dataclass(frozen=True)
class Day:
    """What one person's page shows. `asked`: whether their roles are of those for whom things can wait."""

    asked: bool
    waiting: list[Waiting]
    main: list[Part]
    side: list[Part]

    def __bool__(self) -> bool:
        return bool(self.asked or self.main or self.side)


@dataclass(frozen=True)
class Registered:
    """A function with the roles it is for and where its answer stands."""

    function: Callable[[HttpRequest], object]
    roles: frozenset[Role]
    order: int
    column: Column


Registry = dict[str, Registered]
PARTS: Registry = {}
WAITING: Registry = {}


def empty(title: str, words: str, url: str = "", verb: str = "") -> Part:
    """A place that is still empty: what will be here, and the one thing to do first."""
    return Part("accounts/home/_empty.html", {"title": title, "words": words, "url": url, "verb": verb})


def part(*, roles: Collection[Role], order: int, column: Column = "main") -> Callable:
    """Register a function that gives a section of the page."""
    return _register(PARTS, roles, order, column)


def waiting(*, roles: Collection[Role], order: int) -> Callable:
    """Register a function that gives things to do, most urgent first."""
    return _register(WAITING, roles, order, "main")


def day_of(request: HttpRequest) -> Day:
    """The page of the member who asks, in the order of the running head's words."""
    tasks = list(_for_roles(WAITING, request))
    filled = [(entry.column, entry.function(request)) for entry in _for_roles(PARTS, request)]
    return Day(
        asked=bool(tasks),
        waiting=[thing for task in tasks for thing in task.function(request)],
        main=[answer for column, answer in filled if answer and column == "main"],
        side=[answer for column, answer in filled if answer and column == "side"],
    )


def _register(registry: Registry, roles: Collection[Role], order: int, column: Column) -> Callable:
    def keep(function: Callable[[HttpRequest], object]) -> Callable[[HttpRequest], object]:
        name = f"{function.__module__}.{function.__qualname__}"
        registry[name] = Registered(function, frozenset(roles), order, column)
        return function

    return keep


def _for_roles(registry: Registry, request: HttpRequest) -> Iterable[Registered]:
    held = request.membership.roles
    entries = (entry for entry in registry.values() if not held.isdisjoint(entry.roles))
    return sorted(entries, key=lambda entry: entry.order)
