"""The pages on which plates are made."""

import pytest

from courses.actions.plate import begin_plate, set_exhibit
from courses.models import Plate
from tests.makers import (
    make_clause,
    make_edition,
    make_exhibit,
    make_photograph,
    make_plate,
    make_published,
)

HERE = "/clubs/skerry-drover/plates/"


@pytest.fixture
def plate(edition):
    return begin_plate(edition=edition, title="Lay of shoulder")


def page_of(client, plate: Plate) -> str:
    return client.get(f"{HERE}{plate.pk}/").content.decode()


def test_a_plate_is_made_from_beginning_to_publication(cast, edition):
    client = cast.client("educator")
    clause = make_clause(edition, "5.1")
    exhibit = make_exhibit(cast.club, cast.educator, breed=edition.breed)
    begun = client.post(HERE + "new/", {"edition": edition.pk, "title": "Lay of shoulder"})
    plate = Plate.objects.get()
    assert begun.url == f"{HERE}{plate.pk}/"
    words = {"number": 7, "title": "Lay of shoulder", "note": "In *7 a* it leans back."}
    refused = client.post(begun.url, words | {"then": "publish"}, follow=True).content.decode()
    assert "Saved, but not published: something is missing." in refused
    assert "A correct exhibit." in refused
    client.post(begun.url + "clauses/add/", {"clause": clause.pk})
    client.post(begun.url + "exhibits/add/", {"exhibit": exhibit.pk, "side": "correct"})
    assert "Nothing is missing" in page_of(client, plate)
    client.post(begun.url, words | {"then": "publish"})
    plate.refresh_from_db()
    assert (plate.state, plate.number, plate.note) == ("published", 7, "In *7 a* it leans back.")


def test_words_that_cannot_be_saved_are_kept_on_the_page(cast, edition, plate):
    begin_plate(edition=edition, title="Arm")
    client = cast.client("educator")
    answer = client.post(f"{HERE}{plate.pk}/", {"number": 2, "title": "Mine", "note": "Kept words"})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "There is a plate 2 in this edition already." in page
    assert "Kept words" in page
    plate.refresh_from_db()
    assert plate.title == "Lay of shoulder"


def test_htmx_gets_the_parts_alone_and_the_picked_thumbnail_goes(cast, edition, plate):
    exhibit = make_exhibit(cast.club, cast.educator, breed=edition.breed)
    client = cast.client("educator")
    answer = client.post(
        f"{HERE}{plate.pk}/exhibits/add/",
        {"exhibit": exhibit.pk, "side": "incorrect"},
        headers={"HX-Request": "true"},
    ).content.decode()
    assert answer.lstrip().startswith('<div id="_parts">')
    assert f'<li id="pick-{exhibit.pk}" hx-swap-oob="delete">' in answer
    assert "<title>" not in answer


def test_what_is_refused_is_said_and_changes_nothing(cast, edition, plate):
    other = make_clause(make_edition(cast.club, breed=edition.breed, state="draft", title="Next"))
    answer = cast.client("educator").post(
        f"{HERE}{plate.pk}/clauses/add/", {"clause": other.pk}, headers={"HX-Request": "true"}
    )
    assert answer.status_code == 422
    assert "Choose a clause of this edition." in answer.content.decode()
    assert not plate.plate_clauses.exists()


def test_clauses_are_found_as_one_types(cast, edition, plate):
    make_clause(edition, "5.1", text="The blade <slopes>.")
    client = cast.client("educator")
    address = f"{HERE}{plate.pk}/clauses/?words=5."
    fragment = client.get(address, headers={"HX-Request": "true"}).content.decode()
    assert "&lt;slopes&gt;" in fragment
    assert fragment.startswith('<div id="_found"')
    assert "&lt;slopes&gt;" in client.get(address).content.decode()
    nothing = client.get(f"{HERE}{plate.pk}/clauses/?words=9.9", headers={"HX-Request": "true"})
    assert "No clause of this edition is like that" in nothing.content.decode()


def test_exhibits_to_choose_from_are_of_the_breed_not_withdrawn_and_not_on_the_plate(cast, edition, plate):
    def add(**fields):
        return make_exhibit(
            cast.club, cast.educator, **({"breed": edition.breed, "verdict": "correct"} | fields)
        )

    there, free = add(), add()
    add(state="withdrawn")
    add(verdict="incorrect")
    set_exhibit(plate=plate, exhibit=there, side="correct")
    client = cast.client("educator")
    offered = client.get(f"{HERE}{plate.pk}/pick/correct/").context["exhibits"]
    assert [each.number for each in offered] == [free.number]
    every = client.get(f"{HERE}{plate.pk}/pick/correct/?view=&verdict=").context["exhibits"]
    assert [each.number for each in every] == [4, 2]


def test_rows_are_moved_captioned_and_taken_off(cast, edition, plate):
    client = cast.client("educator")
    exhibits = [make_exhibit(cast.club, cast.educator, breed=edition.breed) for _ in range(2)]
    for exhibit in exhibits:
        set_exhibit(plate=plate, exhibit=exhibit, side="correct")
    there = f"{HERE}{plate.pk}/exhibits/{exhibits[0].pk}/"
    client.post(there + "move/", {"direction": "down"})
    client.post(there + "caption/", {"caption": "A bitch of three"})
    rows = list(plate.plate_exhibits.all())
    assert [row.exhibit for row in rows] == exhibits[::-1]
    assert rows[1].caption == "A bitch of three"
    assert client.post(there + "move/", {"direction": "sideways"}).status_code == 422
    client.post(there + "remove/")
    assert [row.exhibit for row in plate.plate_exhibits.all()] == exhibits[1:]


def test_a_note_is_shown_as_it_will_read(cast):
    client = cast.client("educator")
    address = "/clubs/skerry-drover/notes/preview/"
    shown = client.post(address, {"note": "In *7 a* <b>it</b> leans."}).content.decode()
    assert "<em>7 a</em>" in shown
    assert "<b>" not in shown
    assert "Nothing written yet." in client.post(address, {"note": ""}).content.decode()


def test_preview_shows_drafts_that_the_list_of_missing_names(cast, edition, plate):
    exhibit = make_photograph(cast.club, cast.educator, breed=edition.breed)
    set_exhibit(plate=plate, exhibit=exhibit, side="correct")
    client = cast.client("educator")
    assert "/pictures/" in client.get(f"{HERE}{plate.pk}/preview/").content.decode()
    assert "Exhibit 1 is not published." in page_of(client, plate)


def test_the_list_costs_the_same_for_one_plate_and_for_many(cast, edition, django_assert_max_num_queries):
    client = cast.client("educator")
    counts = []
    for n in (1, 2):
        for _ in range(n):
            make_plate(
                edition,
                cast.educator,
                correct=[make_published(cast.club, cast.educator, seed=10 * n + _, breed=edition.breed)],
            )
        with django_assert_max_num_queries(25) as spent:
            assert f"Plate {n}" in client.get(HERE).content.decode()
        counts.append(len(spent))
    assert counts[0] == counts[1]


def test_withdrawing_and_throwing_away(cast, edition):
    plate = make_plate(edition, cast.educator)
    client = cast.client("educator")
    client.post(f"{HERE}{plate.pk}/withdraw/")
    plate.refresh_from_db()
    assert plate.state == "withdrawn"
    assert client.post(f"{HERE}{plate.pk}/remove/").url == HERE
    assert not Plate.objects.exists()
