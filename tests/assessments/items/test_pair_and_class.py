"""Pairs and classes: their keys as proposed, what is refused, how they are marked."""

import pytest
from django.http import QueryDict

from assessments.actions.items import make_item
from assessments.items import KINDS, AnswerRefused, KeyRefused
from assessments.items.shuffling import drawn_order
from assessments.models import Answer
from tests import makers
from tests.assessments.items import asked

PAIR, CLASS = KINDS["which-of-the-pair"], KINDS["place-a-class"]


@pytest.fixture
def pair(cast, edition):
    return asked.pair(edition, cast.educator)


@pytest.fixture
def three(cast, edition):
    return asked.class_item(edition, cast.educator)


def test_a_pair_shows_one_view(cast, edition):
    front, side = (makers.make_exhibit(cast.club, cast.educator, view=view) for view in ("front", "profile"))
    sent = QueryDict(mutable=True)
    sent.setlist("exhibits", [str(front.number), str(side.number)])
    form = PAIR.asking_form(sent, edition=edition, exhibits=PAIR.exhibits)
    assert form.errors["exhibits"] == ["Both exhibits must show the same view."]


def test_the_first_key_of_a_pair_is_what_the_exhibits_are_said_to_be(cast, edition):
    clause = makers.make_clause(edition)
    two = [makers.make_exhibit(cast.club, cast.educator, verdict=v) for v in ("incorrect", "correct")]
    asking = {"question": ""}
    item = make_item(
        edition=edition, by=cast.educator.person, kind=PAIR.name, exhibits=two, asking=asking, clause=clause
    )
    assert item.keys.get().content == {"exhibit": two[1].pk, "clause": clause.pk, "also": []}
    both = [makers.make_exhibit(cast.club, cast.educator, verdict="correct") for _ in range(2)]
    other = make_item(edition=edition, by=cast.educator.person, kind=PAIR.name, exhibits=both, asking=asking)
    assert other.keys.get().content == {"exhibit": None, "clause": None, "also": []}
    assert PAIR.lacks(other.keys.get()) == ["Say which of the two is the better.", "Say by which clause."]


@pytest.mark.parametrize(
    "change",
    [
        {"exhibit": 10**9},
        {"clause": 10**9},
        {"also": [{"clause": 10**9, "credit": 0.5}]},
        {"also": [{"clause": None, "credit": 0.5}]},
        {"also": "none"},
    ],
)
def test_a_pair_key_refuses_what_is_of_elsewhere(change, pair):
    sent = {**pair.keys.get().content, "note": ""} | change
    with pytest.raises(KeyRefused):
        PAIR.read_key(pair, 4, sent)


def test_each_clause_of_a_pair_key_is_named_once(pair):
    sent = {**pair.keys.get().content, "note": ""}
    with pytest.raises(KeyRefused, match="named once"):
        PAIR.read_key(pair, 4, sent | {"also": [{"clause": sent["clause"], "credit": 0.5}]})


def test_an_answer_names_what_is_shown(pair):
    for sent in ({"exhibit": 10**9, "clause": None}, {"exhibit": None, "clause": 10**9}):
        with pytest.raises(AnswerRefused):
            PAIR.read_content(pair, None, sent)


def test_sides_are_drawn_for_each_answer_and_not_by_the_key(pair):
    right = pair.keys.get().content["exhibit"]
    first = [drawn_order(Answer(pk=pk, item=pair))[0] for pk in range(400)]
    assert 150 < first.count(right) < 250


def test_the_first_key_of_a_class_takes_faults_from_the_exhibits(cast, edition):
    fault = makers.make_fault(edition)
    shown = [makers.make_exhibit(cast.club, cast.educator) for _ in range(5)]
    shown[2].shown_faults.create(fault=fault, level=1)
    item = make_item(
        edition=edition,
        by=cast.educator.person,
        kind=CLASS.name,
        exhibits=shown,
        asking={"findings": "counted"},
    )
    content = item.keys.get().content
    assert content["order"] == [exhibit.pk for exhibit in shown]
    assert (content["cuts"], content["total"]) == ([None] * 4, 100)
    assert content["faults"][str(shown[2].pk)] == [{"fault": fault.pk, "level": 1}]
    assert CLASS.lacks(item.keys.get()) == ["Say the cut between each pair of neighbours."]


@pytest.mark.parametrize(
    "change",
    [
        {"order": [10**9, 1, 2]},
        {"cuts": [1]},
        {"cuts": [-1, 2]},
        {"cuts": ["2", 2]},
        {"cuts": [float("inf"), 2]},
        {"cuts": [10**400, 2]},
        {"total": 0},
        {"total": None},
        {"faults": []},
    ],
)
def test_a_class_key_refuses_what_cannot_be(change, three):
    sent = {**three.keys.get().content, "note": ""} | change
    with pytest.raises(KeyRefused):
        CLASS.read_key(three, 4, sent)


def test_a_class_key_refuses_faults_and_levels_of_elsewhere(three):
    sent = {**three.keys.get().content, "note": ""}
    first = str(sent["order"][0])
    fault = sent["faults"][str(sent["order"][2])][0]["fault"]
    for rows in (
        [{"fault": fault, "level": 4}],
        [{"fault": 10**9, "level": 1}],
        [{"fault": fault, "level": 1}] * 2,
    ):
        with pytest.raises(KeyRefused):
            CLASS.read_key(three, 4, sent | {"faults": sent["faults"] | {first: rows}})
    assert CLASS.levels_of(three.keys.get()) == {1, 2}


def test_a_key_whose_cuts_are_all_nothing_has_no_order(three):
    key = three.keys.get()
    key.content = key.content | {"cuts": [0, 0]}
    assert CLASS.lacks(key) == ["Every cut is 0, so that any order would do: give one above 0."]


def test_cuts_that_the_handbooks_forbid_are_warned_of(three):
    key = three.keys.get()
    key.content = key.content | {"cuts": [20, 20]}
    assert CLASS.warned(key) == ["A full reversal loses 80 of 50 points, so it would fall below 0."]


@pytest.mark.parametrize(
    "sent",
    [
        {"placing": [1, 1], "findings": {}},
        {"placing": ["a"], "findings": {}},
        {"placing": [], "findings": []},
    ],
)
def test_a_class_answer_refuses_what_cannot_be(sent, three):
    with pytest.raises(AnswerRefused):
        CLASS.read_content(three, None, sent)


def test_findings_name_faults_of_the_club_once(three):
    order = three.keys.get().content["order"]
    for faults in ([10**9], [None], [1, 1]):
        sent = {"placing": [], "findings": {str(order[0]): {"faults": faults, "nothing": False}}}
        with pytest.raises(AnswerRefused):
            CLASS.read_content(three, None, sent)


def test_an_unfinished_class_may_be_handed_in_and_is_told_so(cast, three):
    order = three.keys.get().content["order"]
    answer = asked.begun(three, cast.trainee)
    mark = asked.marked(
        answer, {"placing": order[:2], "findings": {str(order[0]): {"faults": [], "nothing": True}}}
    )
    assert mark.score == pytest.approx(0.5 / 3)
    assert mark.detail["lines"][-1]["text"].startswith("Not every exhibit was given a place")
    assert CLASS.line(mark)["key"] == "placing 0 of 50"


def test_findings_beside_the_mark_do_not_count(cast, edition):
    item = asked.class_item(edition, cast.educator, findings="beside")
    order = item.keys.get().content["order"]
    answer = asked.begun(item, cast.trainee)
    found = {str(order[0]): {"faults": [], "nothing": True}}
    mark = asked.marked(answer, {"placing": order, "findings": found})
    assert mark.score == 1
    assert mark.detail["findings"] == pytest.approx(1 / 3)
    page = cast.client("trainee").get(f"/clubs/skerry-drover/answers/{answer.pk}/").content.decode()
    assert "Findings, beside the mark" in page
    assert "Agreement of the two orders: 1.00" in page


def test_findings_not_asked_are_not_kept(cast, edition):
    item = asked.class_item(edition, cast.educator, findings="none")
    order = item.keys.get().content["order"]
    found = {str(order[0]): {"faults": [], "nothing": True}}
    assert CLASS.read_content(item, None, {"placing": order, "findings": found})["findings"] == {}
