"""Data to paper: what people wrote stays text, every file is tagged, fonts are embedded, bytes are repeated."""

from __future__ import annotations

import datetime
import re

import pytest
from pypdf.generic import IndirectObject

from shared.printing import UNSHOWN, Document, print_pdf
from tests.printed import fonts_of, headings_and_tables, opened, text_of

TEMPLATE = "tests/shared/printing/strange.typ"
WHEN = datetime.datetime(2026, 11, 3, 14, 5, tzinfo=datetime.UTC)
MARKUP = [
    '#panic(1) #let x = 2 #import "/shared/settings.py"',
    "$ x^2 $ and *not strong* and _not slanted_",
    "@nobody <label> = no heading - no list / no term: + 1",
    "[no content] {no code} \\ no break ~ no space -- --- ... 'a' \"b\" `raw` //comment /* comment */",
]


def printed(words=(), rows=(("1", "one"),), clause=(("A fault", True),), title="A report", **fields):
    data = {"words": list(words), "rows": rows, "clause": clause}
    fields = {"author": "Skerry Drover Club", "language": "en-gb", "made_at": WHEN, **fields}
    return print_pdf(
        TEMPLATE, Document(title=title, foot="The foot.", pages="{n} of {of}", data=data, **fields)
    )


@pytest.mark.parametrize("words", MARKUP)
def test_nothing_that_somebody_wrote_is_markup(words):
    # Typst joins hyphens and dots and turns quotes in markup alone; a text that is data stays as it is.
    found = text_of(printed([words], title=words, rows=[["1", words]], clause=[[words, False]]))
    plain = re.sub(r"\s", "", words)
    assert re.sub(r"\s", "", found).count(plain) == 4


def test_letters_of_the_north_and_of_gaelic_come_out():
    words = "Åse Þórðardóttir, Øyvind Ægirsson, Sìne NicDhòmhnaill, ḃċḋḟġṁṗṡṫ, Łódź, Čapek"
    assert words in text_of(printed([words]))
    assert fonts_of(printed([words])) == {
        name: True for name in fonts_of(printed([words])) if name.startswith("LibertinusSerif")
    }


def test_other_scripts_are_shown_or_marked_as_not_shown():
    pdf = printed(["שלום", "Ελλάδα", "Кинолог", "one 😀 two", "一二"])
    found = text_of(pdf)
    assert "Ελλάδα" in found
    assert "Кинолог" in found
    assert set("שלום") <= set(found)
    assert f"one {UNSHOWN} two" in found
    assert found.count(UNSHOWN) == 3
    assert all(fonts_of(pdf).values())


def test_controls_and_turned_directions_are_left_out():
    found = text_of(printed(["a\x07b\x00c\u202ed\ud800e\ufefff", "one\r\ntwo\tthree"]))
    assert "abcdef" in found
    assert "one two three" in found


def test_a_long_word_is_broken_and_lost_nowhere():
    pdf = printed(["Z" * 600], rows=[["1", "m" * 400]])
    assert re.sub(r"\s", "", text_of(pdf)).count("Z") == 600
    right_edges = []
    opened(pdf).pages[0].extract_text(
        visitor_text=lambda text, _cm, matrix, _font, size: right_edges.append(matrix[4]) if text else None
    )
    assert max(right_edges) < opened(pdf).pages[0].mediabox.width


def test_a_table_repeats_its_heads_on_every_page():
    pdf = printed(rows=[[str(n), f"row {n}"] for n in range(120)])
    pages = opened(pdf).pages
    assert len(pages) > 2
    for number, page in enumerate(pages, start=1):
        assert f"{number} of {len(pages)}" in page.extract_text()
    assert all("Number" in page.extract_text() for page in list(pages)[:-1])


def test_what_the_file_says_of_itself():
    root = opened(printed(title="Ears & *tails*")).trailer["/Root"]
    assert root["/Lang"] == "en-GB"
    assert root["/MarkInfo"]["/Marked"] == True  # noqa: E712, the library's own boolean
    about = opened(printed(title="Ears & *tails*")).metadata
    assert (about.title, about.author) == ("Ears & *tails*", "Skerry Drover Club")
    assert about.creation_date == WHEN
    packet = root["/Metadata"].get_data().decode()
    # ISO 14289-1, clause 5, and ISO 19005-2, 6.6.4: a file says in its metadata which it conforms to.
    assert "<pdfuaid:part>1</pdfuaid:part>" in packet
    assert "<pdfaid:part>2</pdfaid:part>" in packet
    assert "<pdfaid:conformance>A</pdfaid:conformance>" in packet


def test_a_screen_reader_finds_heading_and_table():
    kinds = headings_and_tables(printed())
    assert kinds.count("H1") == 1
    assert kinds.count("Table") == 1
    assert kinds.count("TH") == 2


def test_the_same_data_give_the_same_bytes():
    assert printed(["words"]) == printed(["words"])
    assert printed(["words"]) != printed(["words"], made_at=WHEN + datetime.timedelta(days=1))


def test_no_file_asks_for_anything_from_outside():
    def names(node, seen):
        if isinstance(node, IndirectObject):
            if node.idnum in seen:
                return
            seen.add(node.idnum)
            node = node.get_object()
        if isinstance(node, dict):
            for name, value in node.items():
                yield name
                yield from names(value, seen)
        elif isinstance(node, list):
            for value in node:
                yield from names(value, seen)

    found = set(names(opened(printed(["https://example.org"])).trailer, set()))
    assert found.isdisjoint({"/JS", "/JavaScript", "/URI", "/Launch", "/EmbeddedFiles", "/OpenAction"})
