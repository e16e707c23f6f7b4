"""Tables as CSV files that a spreadsheet opens without running anything.

A spreadsheet takes a cell that begins with one of a few characters for a formula, whoever wrote it. Such a cell
gets an apostrophe in front, nulls are left out, and every text is quoted, so that none can end its cell. Rules:
OWASP Application Security Verification Standard 5.0, requirement 1.2.10 (=, +, -, @, tab, null; RFC 4180,
sections 2.6 and 2.7); OWASP, "CSV Injection" (line feed, carriage return, and the same signs in full width).
"""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable, Sequence
from decimal import Decimal

from django.http import HttpResponse

FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
# By this Excel knows UTF-8.
BYTE_ORDER_MARK = "\ufeff"


def csv_text(heads: Sequence[object], rows: Iterable[Sequence[object]]) -> str:
    """Heads and rows as RFC 4180 has them; numbers stay numbers, None and not-a-number are empty."""
    text = io.StringIO()
    writer = csv.writer(text, quoting=csv.QUOTE_NONNUMERIC)
    writer.writerow([safe_cell(head) for head in heads])
    writer.writerows([safe_cell(value) for value in row] for row in rows)
    return text.getvalue()


def safe_cell(value: object) -> str | int | float | Decimal:
    """A number as it is, or else a text that no spreadsheet takes for a formula."""
    if isinstance(value, int | float | Decimal) and not isinstance(value, bool):
        return value if math.isfinite(value) else ""
    text = "" if value is None else str(value).replace("\0", "")
    return f"'{text}" if text.startswith(FORMULA_SIGNS) else text


def csv_answer(name: str, heads: Sequence[object], rows: Iterable[Sequence[object]]) -> HttpResponse:
    """A file to keep, called `name`.csv: letters, digits and hyphens."""
    response = HttpResponse(BYTE_ORDER_MARK + csv_text(heads, rows), content_type="text/csv; charset=utf-8")
    response.headers["Content-Disposition"] = f'attachment; filename="{name}.csv"'
    return response
