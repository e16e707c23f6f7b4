"""The club's list of faults."""

import pytest
from django.urls import reverse

from courses.models import Fault
from tests import makers

GIVEN = {
    "name": "Sickle hock",
    "virtue": "Plumb below the hock",
    "zone": "hindquarters",
    "clause": "",
    "level": "2",
    "other_names": "bent hock\r\n sickled hock \r\nbent hock\r\n",
}


@pytest.fixture
def client(cast):
    return cast.client("educator")


def url(name, *arguments):
    return reverse(name, args=["skerry-drover", *arguments])


def test_a_fault_is_added_changed_and_taken_off(client, edition):
    clause = makers.make_clause(edition, "7.3")
    client.post(url("fault-new", "drover"), GIVEN | {"clause": clause.pk})
    fault = Fault.objects.get()
    assert (fault.clause, fault.level, fault.other_names) == (clause, 2, ["bent hock", "sickled hock"])
    page = client.get(url("faults")).content.decode()
    assert "bent hock, sickled hock" in page
    assert ">7.3</a>" in page
    assert "<td>Serious</td>" in page
    client.post(url("fault", fault.pk), GIVEN | {"name": "Sickle hocks", "level": "1"})
    fault.refresh_from_db()
    assert (fault.name, fault.level, fault.clause) == ("Sickle hocks", 1, None)
    client.post(url("fault-remove", fault.pk))
    assert not Fault.objects.exists()


def test_a_form_for_a_clause_begins_with_what_the_clause_says(client, edition):
    clause = makers.make_clause(edition, "7.3", zone="hindquarters", severity=2)
    page = client.get(url("fault-new", "drover") + f"?clause={clause.pk}").content.decode()
    assert f'<option value="{clause.pk}" selected>' in page
    assert '<option value="hindquarters" selected>' in page
    assert 'value="2" id="level-2" checked' in page


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"name": ""}, "This field is required"),
        ({"name": "upright SHOULDER"}, "The list has “upright SHOULDER” already."),
        ({"zone": ""}, "This field is required"),
        ({"level": "9"}, "9 is not one of the available choices"),
        ({"other_names": "\n".join(f"name {n}" for n in range(13))}, "At most 12 other names"),
        ({"other_names": "x" * 81}, "at most 80 letters"),
    ],
)
def test_what_cannot_be_saved_comes_back_with_everything_typed(client, edition, fields, said):
    makers.make_fault(edition)
    response = client.post(url("fault-new", "drover"), GIVEN | fields)
    page = response.content.decode()
    assert response.status_code == 422
    assert said in page
    assert "Plumb below the hock" in page
    assert Fault.objects.count() == 1


def test_a_clause_of_another_breed_is_no_choice(client, cast, edition):
    other = makers.make_edition(cast.club, breed=makers.make_breed(cast.club, name="Holm", slug="holm"))
    clause = makers.make_clause(other)
    response = client.post(url("fault-new", "drover"), GIVEN | {"clause": clause.pk})
    assert response.status_code == 422


def test_a_fault_whose_clause_has_retired_keeps_it_until_another_is_chosen(client, cast, edition):
    fault = makers.make_fault(edition, "Sickle hock", "7.3")
    edition.state = "retired"
    edition.save()
    now = makers.make_edition(cast.club, title="Edition of 2027")
    makers.make_clause(now, "7.1")
    assert "Edition of 2026" in client.get(url("faults")).content.decode()
    page = client.get(url("fault", fault.pk)).content.decode()
    assert "7.3 (Edition of 2026)" in page
    client.post(url("fault", fault.pk), GIVEN | {"clause": fault.clause.pk})
    fault.refresh_from_db()
    assert fault.clause.number == "7.3"


def test_a_fault_in_use_says_where(client, cast, edition):
    fault = makers.make_fault(edition)
    exhibit = makers.make_exhibit(cast.club, cast.educator)
    exhibit.shown_faults.create(fault=fault, level=2)
    page = client.post(url("fault-remove", fault.pk), follow=True).content.decode()
    assert f"in use: exhibit {exhibit.number}." in page
    assert Fault.objects.exists()


def test_search_is_bounded_and_answers_with_the_list_alone(client, edition):
    for n in range(60):
        makers.make_fault(edition, f"Fault {n:02}", "5.1")
    html = client.get(url("faults"), {"words": "fault 3"}, headers={"HX-Request": "true"}).content.decode()
    assert html.lstrip().startswith('<div id="_faults">')
    assert html.count("<tr>") == 16
    first = client.get(url("faults")).content.decode()
    assert "Page 1 of 2" in first
    assert "goes by “whiskers”" in client.get(url("faults"), {"words": "whiskers"}).content.decode()
    assert client.get(url("faults"), {"words": "x" * 5000, "page": "zz"}).status_code == 200
    assert client.get(url("faults"), {"breed": "unknown"}).status_code == 404


def test_the_list_costs_the_same_queries_for_more_faults(client, edition, django_assert_max_num_queries):
    makers.make_fault(edition)
    client.get(url("faults"))
    with django_assert_max_num_queries(20) as few:
        client.get(url("faults"))
    for n in range(5):
        makers.make_fault(edition, f"Fault {n}", f"7.{n + 1}")
    with django_assert_max_num_queries(len(few)):
        client.get(url("faults"))


def test_lines_become_faults(client, edition):
    lines = "Sickle hock; plumb hock; hindquarters; Serious; bent hock, sickled hock\n\nGay tail\n"
    client.post(url("fault-lines", "drover"), {"lines": lines})
    assert list(Fault.objects.values_list("name", "virtue", "zone", "level", "other_names")) == [
        ("Gay tail", "", "tail", 0, []),
        ("Sickle hock", "plumb hock", "hindquarters", 2, ["bent hock", "sickled hock"]),
    ]


def test_lines_that_are_not_taken_say_which_and_why(client, edition):
    makers.make_fault(edition)
    lines = "Cow hocks; ; wing\nUpright shoulder\n; x\nGay tail; ; tail; grave\nCow hocks\n" + "x" * 81
    response = client.post(url("fault-lines", "drover"), {"lines": lines})
    page = response.content.decode()
    assert response.status_code == 422
    assert "Line 1: “wing” is no zone. The zones are head, neck," in page
    assert "Line 2: “Upright shoulder” is on the list already." in page
    assert "Line 3: a name has between 1 and 80 letters." in page
    assert "Line 4: “grave” is no level. The levels are Minor, Moderate, Serious, Disqualifying." in page
    assert "Line 5: “Cow hocks” is on the list already." in page
    assert "Line 6: a name has between 1 and 80 letters." in page
    assert "Gay tail; ; tail; grave" in page
    assert Fault.objects.count() == 1
