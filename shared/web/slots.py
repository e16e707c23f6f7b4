"""Places on a page of one app that another app fills, so that imports run one way.

The app that fills a slot answers once for all things that the page lists, in a number of queries that does
not grow with the list:

    @fills("member", "assessments/mentorship/_mentors.html")
    def mentors_of(request, members) -> dict[Membership, dict]: ...

The page asks `fillings("member", request, members)` and writes, for each thing,
`{% for filling in fillings %}{% include filling.template with slot=filling.context %}{% endfor %}`.
Things without an entry get nothing. Functions are registered in `AppConfig.ready`.

A slot of the page as a whole has the one thing None: `{% fillings "first plate" as plates %}` in a template.
The slots are: "member" (a row of the members' list and the member's page; the context has a `title`),
"former member" (a row of those who left), "own club" (one of a person's clubs on their own page), "quiz place"
(a module's place for a quiz, as it is read and as it is made), "exhibit uses" (what uses an exhibit, on the page
that says what a permission's end would take), and "first plate" (the picture beside the sign-in form, which
everyone sees).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from django.http import HttpRequest

Context = Mapping[str, object]
Filler = Callable[[HttpRequest, Sequence], Mapping[object, Context]]
SLOTS: dict[str, dict[str, Filler]] = {}


@dataclass(frozen=True)
class Filling:
    """A template with what it finds under `slot`."""

    template: str
    context: Context


def fills(slot: str, template: str) -> Callable[[Filler], Filler]:
    """Register what fills a slot; the same template registered again replaces the function."""

    def keep(filler: Filler) -> Filler:
        SLOTS.setdefault(slot, {})[template] = filler
        return filler

    return keep


def fillings(slot: str, request: HttpRequest, things: Sequence) -> dict[object, list[Filling]]:
    """For each of the things on the page, what the other apps put there."""
    found: dict[object, list[Filling]] = {thing: [] for thing in things}
    for template, filler in SLOTS.get(slot, {}).items():
        for thing, context in filler(request, things).items():
            found[thing].append(Filling(template, context))
    return found
