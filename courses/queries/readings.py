"""The words of degree that a breed's standard uses, with where it uses them."""

from __future__ import annotations

from dataclasses import dataclass, field

from courses.models import Breed, Clause, Edition
from courses.queries.standard import edition_in_force
from shared.prose.degree_words import DEFAULT_READINGS, find_degree_words, plain_phrase


@dataclass
class Phrase:
    """A phrase of degree, its reading (one of four keys or None), and the clauses that use it."""

    phrase: str
    level: str | None
    usual: str | None
    known: bool
    used_in: list[str] = field(default_factory=list)


def phrases_of(breed: Breed) -> list[Phrase]:
    """Every phrase that is read: those in use first, the most used of them foremost; then by name."""
    own = breed.readings
    found = {
        phrase: Phrase(phrase, own.get(phrase, usual), usual, known=True)
        for phrase, usual in DEFAULT_READINGS.items()
    }
    for phrase, level in own.items():
        found.setdefault(phrase, Phrase(phrase, level, None, known=False))
    edition = edition_in_force(breed) or breed.editions.order_by("-pk").first()
    for number, text in _wordings(edition):
        for word in find_degree_words(text, own):
            phrase = found[plain_phrase(word.text)]
            if number not in phrase.used_in:
                phrase.used_in.append(number)
    return sorted(found.values(), key=lambda each: (-len(each.used_in), each.phrase))


def _wordings(edition: Edition | None) -> list[tuple[str, str]]:
    return list(Clause.objects.filter(edition=edition).values_list("number", "text")) if edition else []
