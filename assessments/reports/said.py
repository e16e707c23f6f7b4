"""What an answer says, with names in place of the ids by which it is kept: an id means nothing outside the club."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from assessments.models import Answer
from assessments.queries.own_record import names_of_faults, numbers_of_clauses, numbers_of_exhibits

# Which part of an answer's content names what, whatever its kind.
_FAULTS, _CLAUSES, _EXHIBITS = ("fault", "faults"), ("clause",), ("exhibit", "placing")
# Parts whose names are ids of exhibits.
_BY_EXHIBIT = "findings"


@dataclass(frozen=True)
class Names:
    """Of the faults, clauses and exhibits that some answers speak of."""

    faults: dict[int, str]
    clauses: dict[int, str]
    exhibits: dict[int, int]


def names_in(answers: Iterable[Answer]) -> Names:
    """In three queries."""
    found = [pair for answer in answers for pair in _ids(answer.content)]

    def of(parts: Sequence[str]) -> set[int]:
        return {pk for name, pk in found if name in parts}

    return Names(
        names_of_faults(of(_FAULTS)),
        numbers_of_clauses(of(_CLAUSES)),
        numbers_of_exhibits(of((*_EXHIBITS, _BY_EXHIBIT))),
    )


def said(answer: Answer, names: Names, labels: Sequence[str]) -> dict[str, Any]:
    """The content of an answer in words; `labels` are the ladder's, by which it was marked."""
    by_part: dict[str, Callable[[Any], Any]] = {
        **dict.fromkeys(_FAULTS, names.faults.get),
        **dict.fromkeys(_CLAUSES, names.clauses.get),
        **dict.fromkeys(_EXHIBITS, names.exhibits.get),
        "level": lambda level: labels[level] if level < len(labels) else None,
        "chosen": {each["id"]: each["text"] for each in answer.item.asking.get("options", [])}.get,
    }

    def told(value: Any, name: str = "") -> Any:
        if isinstance(value, dict):
            if name == _BY_EXHIBIT:
                return {str(names.exhibits.get(int(pk), "")): told(each) for pk, each in value.items()}
            return {part: told(each, part) for part, each in value.items()}
        if isinstance(value, list):
            return [told(each, name) for each in value]
        return by_part[name](value) if name in by_part and value is not None else value

    return told(answer.content)


def _ids(value: Any, name: str = "") -> Iterator[tuple[str, int]]:
    if isinstance(value, dict):
        for part, each in value.items():
            if name == _BY_EXHIBIT:
                yield name, int(part)
            yield from _ids(each, part)
    elif isinstance(value, list):
        for each in value:
            yield from _ids(each, name)
    elif isinstance(value, int) and name in (*_FAULTS, *_CLAUSES, *_EXHIBITS):
        yield name, value
