"""How times are written into rows that are there already."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence

from django.db import connection
from django.db.models import Model


def write_times(rows: Sequence[Model], *names: str) -> int:
    """One statement, sent with the times of all rows: `bulk_update` puts together a CASE for each of them."""
    if rows:
        fields = [rows[0]._meta.get_field(name) for name in names]
        table, quoted = rows[0]._meta.db_table, connection.ops.quote_name
        places = ", ".join(f"{quoted(field.column)} = %s" for field in fields)
        statement = f"UPDATE {quoted(table)} SET {places} WHERE {quoted(rows[0]._meta.pk.column)} = %s"  # noqa: S608
        with connection.cursor() as cursor:
            cursor.executemany(
                statement,
                [
                    [
                        *(
                            field.get_db_prep_save(getattr(row, field.attname), connection)
                            for field in fields
                        ),
                        row.pk,
                    ]
                    for row in rows
                ],
            )
    return len(rows)


def set_times(rows: Iterable[Model], moments: Iterable[dt.datetime], *names: str) -> int:
    """Each row in turn has its moment, in those of the named fields that hold a time already."""
    changed = []
    for row, moment in zip(rows, moments, strict=False):
        for name in names:
            if getattr(row, name) is not None:
                setattr(row, name, moment)
        changed.append(row)
    return write_times(changed, *names)
