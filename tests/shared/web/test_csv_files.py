"""Files for spreadsheets, in which nothing is run."""

import csv
import io
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.web.csv_files import csv_answer, csv_text, safe_cell

# OWASP Application Security Verification Standard 5.0, 1.2.10, and OWASP, "CSV Injection".
SIGNS = ["=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"]


@pytest.mark.parametrize("sign", SIGNS)
def test_a_text_that_would_be_a_formula_is_made_a_text(sign):
    assert safe_cell(f"{sign}1+1") == f"'{sign}1+1"


def test_a_null_does_not_hide_a_sign():
    assert safe_cell("\0=1+1") == "'=1+1"


@pytest.mark.parametrize("text", ["Upright shoulder", "5.1", "a = b", "", "’=", '"quoted"'])
def test_other_texts_are_left_alone(text):
    assert safe_cell(text) == text


@pytest.mark.parametrize("number", [-0.11, 12, Decimal("-3.5"), 0])
def test_numbers_stay_numbers(number):
    assert safe_cell(number) == number
    assert csv_text(["n"], [[number]]) == f'"n"\r\n{number}\r\n'


@pytest.mark.parametrize("nothing", [None, float("nan"), float("inf")])
def test_what_is_not_known_is_empty(nothing):
    assert safe_cell(nothing) == ""


@given(st.lists(st.lists(st.text(), min_size=2, max_size=2), max_size=4))
def test_no_cell_that_is_read_back_begins_a_formula_and_none_breaks_out_of_its_row(rows):
    read = list(csv.reader(io.StringIO(csv_text(["a", "b"], rows), newline="")))
    assert [len(row) for row in read] == [2] * (len(rows) + 1)
    for row, given_row in zip(read[1:], rows, strict=True):
        for cell, text in zip(row, given_row, strict=True):
            assert not cell.startswith(tuple(SIGNS))
            assert cell.removeprefix("'") == text.replace("\0", "").removeprefix("'")


def test_a_file_is_kept_not_shown_and_says_that_it_is_unicode():
    response = csv_answer("zones", ["Zone"], [["Größe"]])
    assert response.content.startswith(b"\xef\xbb\xbf")
    assert response.content.decode("utf-8-sig") == '"Zone"\r\n"Größe"\r\n'
    assert response.headers["Content-Disposition"] == 'attachment; filename="zones.csv"'
    assert response.headers["Content-Type"] == "text/csv; charset=utf-8"
