"""What the key page sends: checked entry by entry before anything of it is kept."""

import copy

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assessments.items import KeyRefused
from assessments.items.mark_the_faults.drawing_up import drawn_up
from assessments.items.mark_the_faults.key_content import kept_key, read_key
from assessments.models import Key, KeyEntry
from assessments.queries.quizzes import items_of
from courses.models import Clause
from tests import makers

LEVELS = 4


@pytest.fixture
def item(cast, edition):
    return makers.make_draft_item(edition, cast.educator)


@pytest.fixture
def arm(edition):
    return makers.make_fault(edition, "Short upper arm", "5.2")


@pytest.fixture
def sent(shoulder, arm):
    """A complete key as the page sends it."""
    one = {
        "fault": shoulder.pk,
        "clause": shoulder.clause_id,
        "level": 2,
        "whole_dog": False,
        "regions": [makers.SHOULDER],
        "also": [{"fault": arm.pk, "credit": 0.5}],
    }
    return {"sound": False, "note": "As the panel has it.", "entries": [one]}


def test_a_complete_key_goes_to_rows_and_back(cast, item, sent, shoulder):
    kept = read_key(sent, item, LEVELS)
    assert kept["entries"][0]["fault"] == shoulder
    assert kept["entries"][0]["zone"] == "forequarters"
    key = item.keys.get()
    KeyEntry.objects.bulk_create(KeyEntry(key=key, position=0, **kept["entries"][0]) for _ in range(1))
    Key.objects.update(note=kept["note"], sound=kept["sound"])
    key.refresh_from_db()
    assert kept_key(key) == sent


def test_an_empty_entry_is_a_draft_too(item):
    kept = read_key({"entries": [{}]}, item, LEVELS)
    assert kept["entries"] == [
        {
            "fault": None,
            "clause": None,
            "zone": "",
            "level": None,
            "whole_dog": False,
            "regions": [],
            "also": [],
        }
    ]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"fault": 10**9}, "B: the fault is not on the club’s list. Choose another."),
        ({"fault": "5"}, "B: the fault is not on the club’s list. Choose another."),
        ({"clause": 10**9}, "B: the clause is not in this item’s edition. Choose another."),
        ({"level": LEVELS}, "B: the severity is not on the club’s ladder. Weigh it again."),
        ({"level": -1}, "B: the severity is not on the club’s ladder. Weigh it again."),
        ({"level": True}, "B: the severity is not on the club’s ladder. Weigh it again."),
        ({"whole_dog": True}, "B: a fault of the whole dog has no region."),
        ({"regions": "all"}, "B: its region could not be read. Draw it again."),
        ({"regions": [makers.SHOULDER] * 9}, "B: one fault has at most 8 regions."),
        (
            {"regions": [[[0.1, 0.1], [0.3, 0.3], [0.3, 0.1], [0.1, 0.3]]]},
            "B: the outline of its region crosses or touches itself. Move a corner.",
        ),
        (
            {"regions": [[[0.1, 0.1], [0.3, 0.1], [0.3, 0.8]]]},
            "B: its region reaches beyond the picture. Move it inside.",
        ),
        ({"also": [{"fault": None, "credit": 1}]}, "B: an accepted name is not on the club’s list."),
        ({"also": "any"}, "B: its accepted names could not be read."),
    ],
)
def test_what_is_wrong_is_said_by_the_letter_of_its_entry(item, sent, change, words):
    sent["entries"].append(sent["entries"][0] | change)
    with pytest.raises(KeyRefused) as caught:
        read_key(sent, item, LEVELS)
    assert caught.value.wrong == [(1, words)]


@pytest.mark.parametrize("credit", [-0.1, 1.01, None, "0.5", True, float("nan")])
def test_credit_lies_between_0_and_1(item, sent, arm, credit):
    sent["entries"][0]["also"] = [{"fault": arm.pk, "credit": credit}]
    with pytest.raises(KeyRefused, match="A: the credit for “Short upper arm” must lie between 0 and 1"):
        read_key(sent, item, LEVELS)


def test_accepted_names_are_others_and_each_once(item, sent, shoulder, arm):
    name = {"fault": arm.pk, "credit": 0.5}
    sent["entries"][0]["also"] = [{"fault": shoulder.pk, "credit": 0.5}, name, name]
    with pytest.raises(KeyRefused) as caught:
        read_key(sent, item, LEVELS)
    assert [words for _place, words in caught.value.wrong] == [
        "A: “Upright shoulder” is the fault itself and has all the credit.",
        "A: “Short upper arm” is accepted twice.",
    ]


def test_faults_and_clauses_of_another_breed_or_edition_are_refused(cast, item, sent):
    other = makers.make_edition(cast.other_club)
    foreign = makers.make_fault(other)
    older = makers.make_edition(cast.club, title="Edition of 2019", state="retired")
    sent["entries"][0] |= {"fault": foreign.pk, "clause": makers.make_clause(older).pk}
    with pytest.raises(KeyRefused) as caught:
        read_key(sent, item, LEVELS)
    assert [words for _place, words in caught.value.wrong] == [
        "A: the fault is not on the club’s list. Choose another.",
        "A: the clause is not in this item’s edition. Choose another.",
    ]


@pytest.mark.parametrize(
    "sent", [None, [], "key", {}, {"entries": {}}, {"entries": [1]}, {"entries": [{}] * 21}]
)
def test_what_is_no_key_is_refused_as_a_whole(item, sent):
    with pytest.raises(KeyRefused) as caught:
        read_key(sent, item, LEVELS)
    assert [place for place, _words in caught.value.wrong] == [None]


anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=4),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner, max_size=3),
    max_leaves=8,
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60)
@given(part=st.sampled_from(["fault", "clause", "level", "whole_dog", "regions", "also"]), value=anything)
def test_whatever_is_sent_is_kept_or_refused_and_never_breaks(item, sent, part, value):
    given_key = copy.deepcopy(sent)
    given_key["entries"][0][part] = value
    entries, wrong = kept_or_wrong(given_key, item)
    assert len(entries) + bool(wrong) == 1
    assert all(words.startswith("A: ") for _place, words in wrong)
    for fields in entries:
        KeyEntry(key=item.keys.get(), position=0, **fields).clean_fields(exclude=["zone"])


def kept_or_wrong(sent, item):
    try:
        return read_key(sent, item, LEVELS)["entries"], []
    except KeyRefused as refused:
        return [], refused.wrong


def test_each_fault_brings_its_clause_of_this_edition_and_each_clause_its_reading(cast, item, shoulder):
    """The fault's clause may be of the edition before: the clause that came from it stands in its place."""
    old = shoulder.clause
    newer = makers.make_edition(cast.club, title="Edition of 2030", state="draft")
    new = makers.make_clause(newer, text="A steep blade disqualifies.", follows=old)
    bare = makers.make_clause(newer, "5.2", text="The arm is as long as the blade.")
    item.edition = newer
    item.save()
    key = item.keys.get()
    key.item = items_of(cast.club).get()
    page = drawn_up(key)
    assert [(fault["clause_id"], fault["clause"]) for fault in page["faults"]] == [(new.pk, "5.1")]
    assert [(clause["level"], clause["reading"]) for clause in page["clauses"]] == [
        (3, "The club reads “disqualifies” in 5.1 as Disqualifying."),
        (None, ""),
    ]
    Clause.objects.filter(pk=bare.pk).update(severity=1, severity_confirmed_at="2026-01-01T10:00Z")
    assert drawn_up(key)["clauses"][1]["reading"] == "The club weighs 5.2 as Moderate."
