"""Rows that stand in an order of their own."""

from __future__ import annotations

from typing import Literal, TypeVar

from django.db import models

Direction = Literal["up", "down"]
Row = TypeVar("Row", bound=models.Model)


def moved(rows: models.QuerySet[Row], row: Row, direction: Direction) -> None:
    """Give `row` the place before or after its own; at the end of the line nothing moves."""
    line = list(rows)
    here = line.index(row)
    there = here + (1 if direction == "down" else -1)
    if 0 <= there < len(line):
        line[here], line[there] = line[there], line[here]
    for position, each in enumerate(line):
        each.position = position
    rows.model.objects.bulk_update(line, ["position"])


def last_position(rows: models.QuerySet[Row]) -> int:
    """The position of a row that comes after all others."""
    last = rows.aggregate(last=models.Max("position"))["last"]
    return 0 if last is None else last + 1
