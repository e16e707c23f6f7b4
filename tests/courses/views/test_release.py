"""From one edition to the next."""

import pytest
from django.urls import reverse

from courses.actions.section import confirm_section
from courses.models import Clause, Edition, Fault
from tests import makers

SAID = {
    "title": "Edition of 2027",
    "issuing_body": "Skerry Drover Club",
    "issued_on": "2027-01-01",
    "source": "",
    "reproduced_by": "The club’s own text.",
}


@pytest.fixture
def edition(cast):
    return makers.make_draft(cast.club, reproduced_by="Own text.")


@pytest.fixture
def client(cast):
    return cast.client("educator")


def url(name, edition):
    return reverse(name, args=["skerry-drover", edition.pk])


def confirm_all(edition, by):
    for section in edition.sections.all():
        confirm_section(section=section, by=by.person)


def test_what_is_missing_keeps_an_edition_from_release(client, edition):
    page = client.get(url("edition-release", edition)).content.decode()
    assert "The severities of 5.1, 5.2, 5.3 are not confirmed." in page
    assert f'{url("edition", edition)}#section-{edition.sections.first().pk}"' in page
    assert "disabled>Release it" in page
    client.post(url("edition-release", edition))
    edition.refresh_from_db()
    assert edition.draft


def test_release_puts_it_in_force_and_members_read_it(client, cast, edition):
    reading = reverse("study-standard", args=["skerry-drover"])
    trainee = cast.client("trainee")
    assert "will be here" in trainee.get(reading).content.decode()
    confirm_all(edition, cast.educator)
    client.post(url("edition-release", edition))
    page = trainee.get(reading).content.decode()
    assert 'id="c-5.1"' in page
    assert '<span class="degree">serious fault</span>' in page
    assert '<a href="#s-5">Forequarters</a>' in page
    assert "5.1–5.3" in page
    assert "Own text." in page
    assert ">Edit<" not in page


def test_a_copy_is_compared_and_released_with_its_faults(client, cast, edition):
    confirm_all(edition, cast.educator)
    client.post(url("edition-release", edition))
    makers.make_fault(edition, number="5.1")
    response = client.post(url("edition-copy", edition), SAID)
    draft = Edition.objects.get(title="Edition of 2027")
    assert response.url == url("edition", draft)
    Clause.objects.filter(edition=draft, number="5.1").update(
        text="The blade slopes. A steep one is a fault."
    )
    Clause.objects.get(edition=draft, number="6.1").delete()
    page = client.get(url("edition-compare", draft)).content.decode()
    assert "1 removed. 1 reworded. 3 unchanged." in " ".join(page.split())
    assert '<del><span class="unseen">taken out: </span>' in page
    assert '<ins><span class="unseen">put in: </span>' in page
    assert "The arm is as long" not in page
    whole = client.get(url("edition-compare", draft) + f"?with={edition.pk}&all=1").content.decode()
    assert "The arm is as long" in whole
    foreseen = client.get(url("edition-release", draft)).content.decode()
    assert "“Edition of 2026” retires" in foreseen
    assert "1 fault of the club’s list moves" in foreseen
    client.post(url("edition-release", draft))
    assert Fault.objects.get().clause.edition == draft


def test_comparing_with_an_edition_of_another_breed_is_not_found(client, cast, edition):
    other = makers.make_edition(cast.club, breed=makers.make_breed(cast.club, name="Holm", slug="holm"))
    assert client.get(url("edition-compare", edition) + f"?with={other.pk}").status_code == 404
    alone = client.get(url("edition-compare", edition)).content.decode()
    assert "Once the breed has another edition" in alone


def test_reading_costs_the_same_queries_for_a_long_standard(client, edition, django_assert_max_num_queries):
    Edition.objects.update(state="released")
    reading = reverse("study-standard", args=["skerry-drover"])
    client.get(reading)
    with django_assert_max_num_queries(20) as few:
        client.get(reading)
    for n in range(20):
        makers.make_clause(edition, f"{n % 4 + 10}.{n + 1}")
    with django_assert_max_num_queries(len(few)):
        client.get(reading)


def test_each_breed_has_its_own_standard(client, cast, edition):
    Edition.objects.update(state="released")
    holm = makers.make_breed(cast.club, name="Holm Spaniel", slug="holm")
    makers.make_clause(makers.make_edition(cast.club, breed=holm), text="Gay on the shore.")
    page = client.get(reverse("study-standard", args=["skerry-drover"]) + "?breed=holm").content.decode()
    assert "Gay on the shore." in page
    assert "The blade slopes" not in page
