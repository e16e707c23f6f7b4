"""A plate is made and read without a mouse."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from courses.actions.drawing import keep_drawing
from courses.actions.exhibit import publish_exhibit
from courses.actions.plate import begin_plate
from courses.figure import apply_faults, preview
from courses.models import Plate
from tests.makers import make_clause, make_fault, make_module, make_plate

HERE = "/clubs/skerry-drover/"

pytestmark = pytest.mark.django_db(transaction=True)


def drawn(cast, edition, **faults: float):
    figure = apply_faults(faults)
    made = keep_drawing(
        club=cast.club,
        breed=edition.breed,
        drawing=preview("profile", figure, width=600),
        settings=figure,
        faults=faults,
        made_by=cast.educator.person,
    )
    publish_exhibit(exhibit=made)
    return made


def test_a_plate_is_made_by_keyboard_and_nothing_typed_is_lost(cast, edition, open_as):
    make_clause(edition, "5.1")
    drawn(cast, edition)
    plate = begin_plate(edition=edition, title="Lay of shoulder")
    page = open_as(cast.educator, f"{HERE}plates/{plate.pk}/")
    note = page.get_by_label("The club’s note")
    note.fill("In *1 a* it leans back.")
    expect(page.locator("#_note em")).to_have_text("1 a")
    page.get_by_label("Add a clause").press_sequentially("5.1")
    page.get_by_label("Add a clause").press("Enter")
    page.get_by_role("button", name="Add 5.1").press("Enter")
    expect(page.locator(".making-row .clause")).to_contain_text("The blade slopes.")
    page.get_by_role("link", name="Choose correct exhibits").press("Enter")
    page.get_by_role("button", name="Exhibit 1 Add as correct").press("Enter")
    expect(page.locator("#missing li")).to_have_text(["The club’s note."])
    expect(note).to_have_value("In *1 a* it leans back.")
    page.get_by_role("button", name="Publish").press("Enter")
    expect(page.get_by_text("Plate 1 is published.")).to_be_visible()
    assert Plate.objects.get().note == "In *1 a* it leans back."


@pytest.mark.parametrize("phone", [False, True])
def test_lines_and_regions_are_shown_at_a_tick(cast, edition, open_as, phone):
    make_fault(edition, figure="upright_shoulder")
    clause = edition.clauses.get()
    clause.measure, clause.low, clause.high = "layback", 30, 40
    clause.save()
    faulty = drawn(cast, edition, upright_shoulder=0.9)
    plate = make_plate(
        edition, cast.educator, clauses=[clause], correct=[drawn(cast, edition)], incorrect=[faulty]
    )
    module = make_module(edition, plate)
    page = open_as(
        cast.trainee, f"{HERE}study/{module.pk}/{module.places.get().pk}/", phone=phone, color_scheme="dark"
    )
    lines, regions = page.locator(".over-lines"), page.locator(".over-regions")
    expect(lines.first).to_be_hidden()
    page.get_by_label("Plumb lines and angles").press("Space")
    expect(lines).to_have_count(2)
    expect(lines.first).to_be_visible()
    expect(lines.first.get_by_text("35°, within")).to_be_visible()
    expect(regions).to_be_hidden()
    page.get_by_label("Fault regions").press("Space")
    expect(regions).to_be_visible()
    assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth")
    page.get_by_role("button", name="Finish").press("Enter")
    expect(page.get_by_text("You have read “Forequarters”.")).to_be_visible()


def test_the_reading_page_has_nothing_that_a_checker_finds(cast, edition, open_as):
    plate = make_plate(edition, cast.educator, clauses=[make_clause(edition)], correct=[drawn(cast, edition)])
    module = make_module(edition, "Before you look", plate)
    for place in module.places.all():
        page = open_as(cast.trainee, f"{HERE}study/{module.pk}/{place.pk}/", bypass_csp=True)
        assert [each["id"] for each in Axe().run(page).response["violations"]] == []
