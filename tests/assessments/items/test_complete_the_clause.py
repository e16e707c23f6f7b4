"""A clause with gaps: which words are left out, what is accepted, what an answer page holds."""

import pytest
from django.http import QueryDict
from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.items import KINDS, AnswerRefused, KeyRefused
from assessments.items.complete_the_clause.key import read_key
from assessments.items.complete_the_clause.wording import around, bare, gaps_at, left_out, words_of
from tests import makers
from tests.assessments.items import asked

KIND = KINDS["complete-the-clause"]


@pytest.fixture
def clause(edition):
    return makers.make_clause(edition, text=f"*{asked.TEXT}*")


def form(edition, clause, words, of=None, **more):
    sent = QueryDict(mutable=True)
    sent.update({"clause": of or str(clause.pk), "typed": "typed", **more})
    sent.setlist("words", [str(word) for word in words])
    made = KIND.asking_form(sent, edition=edition, exhibits=KIND.exhibits)
    return made, made.is_valid()


def test_words_and_what_is_around_them():
    text = "Well-laid back, at 35°; the dog’s arm."
    assert [word.text for word in words_of(text)] == ["Well-laid", "back", "at", "35", "the", "dog’s", "arm"]
    gaps = gaps_at(text, [0, 1, 3])
    assert left_out(text, gaps) == ["Well-laid back", "35"]
    assert around(text, gaps) == ["", ", at ", "°; the dog’s arm."]
    assert words_of("") == []
    assert bare("A *steep* blade_ is `so`.") == "A steep blade is so."


@settings(max_examples=60, deadline=None)
@given(st.text("ab ,.-’\n", max_size=40), st.data())
def test_pieces_and_gaps_make_the_clause_again(text, data):
    words = words_of(text)
    assert (
        text[: words[0].start] + "".join(word.text + word.after for word in words) == text if words else True
    )
    places = data.draw(st.sets(st.sampled_from([word.place for word in words]))) if words else set()
    gaps = gaps_at(text, places)
    pieces, out = around(text, gaps), left_out(text, gaps)
    assert "".join(a + b for a, b in zip(pieces, [*out, ""], strict=True)) == text


def test_neighbours_are_one_gap_and_the_text_is_a_copy(edition, clause):
    made, valid = form(edition, clause, [3, 5, 6, 7])
    assert valid
    assert made.asking() == {
        "text": asked.TEXT,
        "gaps": [[13, 17], [22, 36]],
        "typed": True,
        "decoys": [],
    }
    assert left_out(asked.TEXT, made.asking()["gaps"]) == ["long", "well laid back"]


@pytest.mark.parametrize(
    ("words", "more", "field"),
    [
        ([], {}, "words"),
        ([999], {}, "words"),
        ([3], {"typed": ""}, "decoys"),
        ([3], {"typed": "", "decoys": "short\nLONG"}, "decoys"),
        ([3], {"typed": "", "decoys": "\n".join(f"word {n}" for n in range(20))}, "decoys"),
        ([3], {"of": "0"}, "clause"),
    ],
)
def test_what_cannot_be_asked_is_said_at_its_field(words, more, field, edition, clause):
    made, valid = form(edition, clause, words, **more)
    assert not valid
    assert field in made.errors


def test_a_clause_of_another_club_shows_no_words(cast, edition):
    theirs = makers.make_edition(cast.other_club)
    text = "Only theirs to read."
    clause = makers.make_clause(theirs, text=text)
    address = f"/clubs/skerry-drover/items/new/complete-the-clause/?edition={edition.pk}&clause={clause.pk}"
    page = cast.client("educator").get(address)
    assert page.status_code == 200
    assert "theirs" not in page.content.decode()


def test_words_chosen_must_be_offered(cast, edition):
    item = asked.clause_item(edition, cast.educator, typed=False)
    assert KIND.read_content(item, None, {"gaps": ["short", ""]}) == {"gaps": ["short", ""]}
    with pytest.raises(AnswerRefused, match="not offered"):
        KIND.read_content(item, None, {"gaps": ["anything", ""]})


@pytest.mark.parametrize(
    "row",
    [
        {"words": "…", "credit": 0.5},
        {"words": "short", "credit": 2},
        {"words": "short", "credit": True},
        {"words": "Long", "credit": 1},
    ],
)
def test_a_key_refuses_what_cannot_be_accepted(row, cast, edition):
    item = asked.clause_item(edition, cast.educator)
    with pytest.raises(KeyRefused):
        read_key({"also": [[row], []], "note": ""}, item)


def test_another_word_of_the_standard_is_no_slip(cast, edition):
    item = asked.clause_item(edition, cast.educator)
    item.asking = item.asking | {"gaps": [[asked.TEXT.index("meeting"), asked.TEXT.index("meeting") + 7]]}
    item.save()
    item.keys.update(content={"also": [[]]})
    answer = asked.begun(item, cast.trainee)
    assert asked.marked(answer, {"gaps": ["meetng"]}).score == 0.75
    makers.make_clause(edition, "9.9", text="Seen at a meetin of the club.")
    second = asked.begun(item, makers.make_trainee(cast.club, "Ailie Tulloch"))
    assert asked.marked(second, {"gaps": ["meetin"]}).score == 0
