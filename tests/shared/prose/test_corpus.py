"""Whole standards of invented breeds, as pasted (.txt), and the clauses that a reader makes of them (.md)."""

from pathlib import Path

import pytest

from shared.prose.cleaning import decode_text
from shared.prose.splitting import join_standard, read_standard

CORPUS = sorted((Path(__file__).parent / "corpus").glob("*.txt"))


@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"], ids=["unix", "windows", "old mac"])
@pytest.mark.parametrize("pasted", CORPUS, ids=lambda path: path.stem)
def test_a_standard_is_cut_as_a_reader_would(pasted, line_end):
    text = pasted.read_text(encoding="utf-8").replace("\n", line_end)
    expected = pasted.with_suffix(".md").read_text(encoding="utf-8")
    assert join_standard(read_standard(decode_text(text.encode()))) == expected


@pytest.mark.parametrize("pasted", CORPUS, ids=lambda path: path.stem)
def test_what_was_cut_is_cut_alike_again(pasted):
    expected = pasted.with_suffix(".md").read_text(encoding="utf-8")
    assert join_standard(read_standard(expected)) == expected


def test_there_is_a_corpus():
    assert len(CORPUS) >= 6
