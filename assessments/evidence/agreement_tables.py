"""How far mentors agree, as files."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.utils.translation import gettext as _

from assessments.evidence.agreement import KeyRow, PairRow
from assessments.evidence.tables import Table, four
from assessments.statistics.agreement import Bias, Kappa, Limits


def key_table(rows: Iterable[KeyRow]) -> Table:
    """Members against the keys; figures only of those who marked enough."""
    heads = [
        _("marked by"), _("exhibits"), _("faults of the keys"), _("saw"), _("named"), _("called in vain"),
        _("linear kappa"), _("from"), _("to"), _("quadratic kappa"), _("from"), _("to"), _("faults weighed"),
        _("beside the key, levels"), _("from"), _("to"),
    ]  # fmt: skip
    found: list[list[Any]] = []
    for row in rows:
        if not row.told:
            found.append([row.name, *[None] * 15])
            continue
        counts = [row.exhibits, row.saw.of, row.saw.n, row.named.n, row.false_alarms]
        weighed = row.kappa.n if row.kappa else 0
        cells = [*_kappa(row.kappa), *_kappa(row.quadratic), weighed, *_bias(row.bias)]
        found.append([row.name, *counts, *cells])
    return heads, found


def pairs_table(rows: Iterable[PairRow]) -> Table:
    """Every two who marked the same exhibits, or gave marks to the same answers."""
    heads = [
        _("first"), _("second"), _("exhibits that both marked"), _("faults that both found"),
        _("linear kappa"), _("from"), _("to"), _("answers that both marked"),
        _("near by the club’s rules"), _("mean difference, points"), _("lower limit of agreement"),
        _("upper limit of agreement"),
    ]  # fmt: skip
    return heads, [
        [
            *row.names,
            row.exhibits,
            row.faults,
            *_kappa(row.kappa),
            row.marks,
            row.within,
            *_limits(row.limits),
        ]
        for row in rows
    ]


def _kappa(found: Kappa | None) -> list[float | None]:
    return [four(value) for value in (found.value, *found.interval)] if found and found.enough else [None] * 3


def _bias(found: Bias | None) -> list[float | None]:
    known = found and found.enough
    return [four(value) for value in (found.mean, found.low, found.high)] if known else [None] * 3


def _limits(found: Limits | None) -> list[float | None]:
    known = found and found.enough
    return [four(value) for value in (found.mean, found.low, found.high)] if known else [None] * 3
