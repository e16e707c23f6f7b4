"""A choice: its question and options, its key, its marks."""

import pytest
from django.http import QueryDict

from assessments.actions.items import change_asking
from assessments.items import KINDS, AnswerRefused
from assessments.items.shuffling import shuffled
from assessments.models import Answer
from tests.assessments.items import asked

KIND = KINDS["choose"]
CLUB = "/clubs/skerry-drover"
SENT = {"stem": "Which?", "several": "several", "option_1": "One", "option_2": "Two", "option_4": "Four"}


def form(edition, sent, item=None):
    made = KIND.asking_form(query(sent), edition=edition, exhibits=KIND.exhibits, item=item)
    return made, made.is_valid()


def query(sent):
    given = QueryDict(mutable=True)
    for name, value in sent.items():
        given.setlist(name, value if isinstance(value, list) else [value])
    return given


def test_empty_lines_are_no_options_and_identities_stay_with_their_line(edition, cast):
    made, valid = form(edition, SENT)
    assert valid
    asking = made.asking()
    assert [option["text"] for option in asking["options"]] == ["One", "Two", "Four"]
    assert asking["several"] is True
    assert len({option["id"] for option in asking["options"]}) == 3
    item = asked.choice(edition, cast.educator)
    again, valid = form(edition, SENT, item)
    assert [option["id"] for option in again.asking()["options"]] == ["aaaaaaaa", "bbbbbbbb", "dddddddd"]


@pytest.mark.parametrize(
    ("change", "field"),
    [({"stem": ""}, "stem"), ({"option_2": ""}, "option_2"), ({"option_4": " one "}, "option_4")],
)
def test_what_cannot_be_asked_is_said_at_its_field(change, field, edition):
    made, valid = form(edition, SENT | change)
    assert not valid
    assert field in made.errors


def test_a_published_question_stays_but_its_title_may_change(edition, cast):
    item = asked.choice(edition, cast.educator)
    address = f"{CLUB}/items/{item.pk}/asking/"
    same = {"stem": item.asking["stem"], "several": "several"} | {
        f"option_{place}": option["text"] for place, option in enumerate(asked.OPTIONS, start=1)
    }
    client = cast.client("educator")
    assert client.post(address, same | {"title": "Blades"}).status_code == 302
    item.refresh_from_db()
    assert item.title == "Blades"
    refused = client.post(address, same | {"option_1": "Otherwise"})
    assert refused.status_code == 422
    assert "Make a copy to ask otherwise." in refused.content.decode()


def test_another_question_begins_its_key_anew(edition, cast):
    item = asked.choice(edition, cast.educator)
    item.keys.update(published_at=None)
    asking = item.asking | {"several": False}
    change_asking(item=item, exhibits=[], asking=asking, title="", clause=None, by=cast.educator.person)
    assert item.keys.get().content == {}


def test_options_stand_in_an_order_of_each_answer(edition, cast):
    item = asked.choice(edition, cast.educator)
    orders = {
        tuple(option["id"] for option in shuffled(Answer(pk=pk, item=item), asked.OPTIONS))
        for pk in range(200)
    }
    assert len(orders) == 24
    answer = Answer(pk=5, item=item)
    assert shuffled(answer, asked.OPTIONS) == shuffled(answer, asked.OPTIONS)
    first = [shuffled(Answer(pk=pk), ["right", "wrong"])[0] for pk in range(400)]
    assert 150 < first.count("right") < 250


def test_a_choice_of_one_takes_one(edition, cast):
    item = asked.choice(edition, cast.educator, several=False, right="a")
    with pytest.raises(AnswerRefused, match="Only one option"):
        KIND.read_content(item, None, {"chosen": ["aaaaaaaa", "bbbbbbbb"]})
    with pytest.raises(AnswerRefused, match="not asked"):
        KIND.read_content(item, None, {"chosen": ["zzzzzzzz"]})


@pytest.mark.parametrize(
    ("several", "right", "lacks"),
    [(True, "", 1), (False, "", 1), (False, "ab", 1), (False, "a", 0), (True, "ab", 0)],
)
def test_a_key_says_what_is_right(several, right, lacks, edition, cast):
    item = asked.choice(edition, cast.educator, several=True)
    item.asking["several"] = several
    key = item.keys.get()
    key.item, key.content = item, {"right": [name * 8 for name in right], "why": {}}
    assert len(KIND.lacks(key)) == lacks


def test_why_is_shown_once_it_is_marked(edition, cast):
    item = asked.choice(edition, cast.educator, why={"aaaaaaaa": "So says 5.1."})
    answer = asked.begun(item, cast.trainee)
    client, address = cast.client("trainee"), f"{CLUB}/answers/{answer.pk}/"
    assert "So says 5.1." not in client.get(address).content.decode()
    mark = asked.marked(answer, {"chosen": ["aaaaaaaa", "cccccccc"]})
    assert mark.score == 0
    page = client.get(address).content.decode()
    assert "So says 5.1." in page
    assert "Right, but not chosen." in page
    assert KIND.line(mark) == {"key": "2 right options", "missed": "1", "called": "1"}
