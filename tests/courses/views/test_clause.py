"""Clauses are edited in place."""

import pytest
from django.urls import reverse

from courses.forms.clause import seen_of
from courses.models import Clause, Edition
from tests import makers

HTMX = {"HX-Request": "true"}


@pytest.fixture
def edition(cast):
    return makers.make_draft(cast.club)


@pytest.fixture
def client(cast):
    return cast.client("educator")


@pytest.fixture
def clause(edition):
    return edition.clauses.get(number="5.1")


def url(name, thing):
    return reverse(name, args=["skerry-drover", thing.pk])


def given(clause, **fields):
    """What the browser sends back of an untouched form, with changes."""
    whole = {"number": clause.number, "text": clause.text, "zone": clause.zone, "seen": seen_of(clause)}
    return whole | {"severity": "", "measure": "", "low": "", "high": ""} | fields


def order(edition):
    return list(edition.clauses.values_list("number", flat=True))


def test_the_form_says_how_the_club_reads_the_words(client, clause):
    page = client.get(url("clause-edit", clause)).content.decode()
    assert "the club reads “serious fault” as Serious" in page
    assert 'name="severity" value="2" id="severity-' in page
    assert " checked" not in page


def test_saving_answers_with_the_clause_and_the_standing_alone(client, clause):
    response = client.post(
        url("clause-edit", clause),
        given(clause, text="The blade *lies* well back.", severity="none"),
        headers=HTMX,
    )
    html = response.content.decode()
    assert "The blade <em>lies</em> well back." in html
    assert "no severity by itself" in html
    assert "Undo changing 5.1" in html
    assert "The arm is as long" not in html
    clause.refresh_from_db()
    assert (clause.severity, clause.severity_confirmed_at is not None) == (None, True)


def test_without_htmx_the_page_comes_back_at_the_clause(client, clause, edition):
    response = client.post(
        url("clause-edit", clause), given(clause, severity="2", measure="layback", low=30, high=40)
    )
    assert response.status_code == 302
    assert response.url == url("edition", edition) + f"#clause-{clause.pk}"
    page = client.get(url("edition", edition)).content.decode()
    assert "<strong>Serious</strong><span>Layback of shoulder blade 30–40°</span>" in page


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"text": ""}, "This field is required"),
        ({"text": "x" * 4001}, "4000"),
        ({"number": "5.2"}, "Another clause of this edition bears 5.2."),
        ({"number": "§"}, "is no clause number"),
        ({"zone": "wing"}, "wing"),
        ({"measure": "layback", "low": "40", "high": "30"}, "The range begins below its end."),
        ({"measure": "layback", "low": "40"}, "Give both ends"),
        ({"low": "1", "high": "2"}, "Say what is measured"),
        ({"severity": "9"}, "9"),
    ],
)
def test_what_cannot_be_saved_comes_back_with_everything_typed(client, clause, fields, said):
    typed = {"text": "Typed with care."} | fields
    response = client.post(url("clause-edit", clause), given(clause, **typed), headers=HTMX)
    html = response.content.decode()
    assert response.status_code == 422
    assert "Not saved yet" in html
    assert said in html
    assert fields.get("text", "Typed with care.") in html
    clause.refresh_from_db()
    assert clause.text.startswith("The blade slopes")


def test_what_someone_else_changed_meanwhile_is_shown_before_it_is_overwritten(client, clause):
    sent = given(clause, text="Mine.")
    Clause.objects.filter(pk=clause.pk).update(text="Theirs.")
    response = client.post(url("clause-edit", clause), sent, headers=HTMX)
    html = response.content.decode()
    assert response.status_code == 422
    assert "It now reads: “Theirs.”" in html
    assert "Mine." in html
    clause.refresh_from_db()
    assert f'value="{seen_of(clause)}"' in html
    client.post(url("clause-edit", clause), sent | {"seen": seen_of(clause)}, headers=HTMX)
    clause.refresh_from_db()
    assert clause.text == "Mine."


def test_confirming_is_one_press(client, clause, cast):
    html = client.post(url("clause-confirm", clause), {"severity": "2"}, headers=HTMX).content.decode()
    assert "<strong>Serious</strong>" in html
    assert "Confirm Serious" not in html
    clause.refresh_from_db()
    assert (clause.severity, clause.severity_confirmed_by) == (2, cast.educator.person)


def test_a_severity_other_than_the_reading_is_told(client, clause, edition):
    client.post(url("clause-confirm", clause), {"severity": "0"})
    page = client.get(url("edition", edition)).content.decode()
    assert "The club reads “serious fault” in 5.1 as Serious" in page
    assert "Confirm Serious" not in page


def test_a_range_below_nought_has_true_minus_signs(client, clause, edition):
    client.post(url("clause-edit", clause), given(clause, measure="elbow_set", low="-0.05", high="0.03"))
    assert "Set of elbow −0.05 to 0.03" in client.get(url("edition", edition)).content.decode()


def test_a_fault_can_be_added_where_the_list_refers_to_the_edition(client, cast, clause, edition):
    link = f'href="/clubs/skerry-drover/breeds/drover/faults/new/?clause={clause.pk}"'
    assert link in client.get(url("clause-edit", clause)).content.decode()
    makers.make_edition(cast.club, title="In force")
    assert link not in client.get(url("clause-edit", clause)).content.decode()


def test_splitting_takes_the_wording_as_typed(client, clause, edition):
    typed = "The blade slopes.\r\n\r\nA steep one is a serious fault."
    html = client.post(url("clause-split", clause), given(clause, text=typed), headers=HTMX).content.decode()
    assert f'id="section-{clause.section_id}"' in html
    assert order(edition)[:3] == ["5.1", "5.1a", "5.2"]
    whole = Clause.objects.get(number="5.2")
    refused = client.post(url("clause-split", whole), given(whole), headers=HTMX)
    assert refused.status_code == 422
    assert "Leave an empty line" in refused.content.decode()


def test_moving_answers_with_the_sections_touched(client, edition):
    last = edition.clauses.get(number="5.3")
    html = client.post(url("clause-down", last), headers=HTMX).content.decode()
    for section in edition.sections.all():
        assert f'id="section-{section.pk}"' in html
    assert order(edition) == ["5.1", "5.2", "5.3", "6.1", "6.2"]
    assert list(edition.sections.last().clauses.values_list("number", flat=True)) == ["5.3", "6.1", "6.2"]


def test_a_form_that_stands_open_is_left_as_it_is(client, edition, clause):
    other = edition.clauses.get(number="5.3")
    sent = {"open": [clause.pk, f"new-{clause.section_id}"]}
    html = client.post(url("clause-up", other), sent, headers=HTMX).content.decode()
    assert f'<div id="clause-{clause.pk}" hx-preserve="true"></div>' in html
    assert f'<div id="new-{clause.section_id}" hx-preserve="true"></div>' in html
    assert clause.text not in html


def test_the_other_ways_join_place_remove_and_add(client, edition, clause):
    ways = client.get(url("clause-ways", clause)).content.decode()
    assert "Join 5.1 and 5.2" in ways
    client.post(url("clause-join", clause))
    client.post(url("clause-place", clause), {"section": edition.sections.last().pk})
    client.post(url("clause-remove", edition.clauses.get(number="6.1")))
    new = {"number": "5.4", "text": "The forearm is straight.", "zone": "forequarters"}
    client.post(url("clause-new", edition.sections.first()), new)
    assert {s.number: [c.number for c in s.clauses.all()] for s in edition.sections.all()} == {
        "5": ["5.3", "5.4"],
        "6": ["6.2", "5.1"],
    }
    label = edition.steps.first().label
    assert label == "adding 5.4"


def test_a_new_clause_is_offered_the_next_number_and_the_zone_of_its_section(client, edition, clause):
    behind = client.get(url("clause-new", clause.section) + f"?after={clause.pk}").content.decode()
    assert 'name="number" value="5.1a"' in behind
    assert '<option value="forequarters" selected>' in behind
    last = client.get(url("clause-new", clause.section)).content.decode()
    assert 'name="number" value="5.4"' in last


def test_a_refusal_is_told_and_changes_nothing(client, edition, clause):
    response = client.post(url("clause-up", clause), headers=HTMX)
    assert response.status_code == 409
    assert "5.1 cannot go any further." in response.content.decode()
    page = client.post(url("clause-up", clause), follow=True).content.decode()
    assert "5.1 cannot go any further." in page


def test_of_a_released_edition_only_the_reading_changes(client, edition, clause):
    Edition.objects.update(state="released")
    page = client.get(url("edition", edition)).content.decode()
    assert "Edit" in page
    assert f'id="up-{clause.pk}"' not in page
    client.post(url("clause-edit", clause), given(clause, text="Forged.", number="9.9", zone="neck"))
    clause.refresh_from_db()
    assert (clause.number, clause.text.startswith("The blade"), clause.zone) == ("5.1", True, "neck")
    assert client.post(url("clause-remove", clause), headers=HTMX).status_code == 409


def test_one_edit_costs_the_same_queries_in_a_long_edition(
    client, edition, clause, django_assert_max_num_queries
):
    def edit(text):
        clause.refresh_from_db()
        client.post(url("clause-edit", clause), given(clause, text=text), headers=HTMX)

    edit("Warm.")
    with django_assert_max_num_queries(40) as few:
        edit("Once.")
    for n in range(40):
        makers.make_clause(edition, f"5.{n + 10}", position=n + 10)
    with django_assert_max_num_queries(len(few)):
        edit("Twice.")
