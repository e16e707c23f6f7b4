"""The pages on which courses and modules are put together."""

import pytest

from courses.actions.course import add_module, add_text, begin_course
from courses.models import Course, Module, Place
from tests.makers import make_module, make_plate

HERE = "/clubs/skerry-drover/"


@pytest.fixture
def client(cast):
    return cast.client("educator")


def test_a_course_is_put_together_and_published(cast, edition, client):
    plate = make_plate(edition, cast.educator)
    client.post(HERE + "courses/new/", {"edition": edition.pk, "title": "Clause by clause", "summary": ""})
    course = Course.objects.get()
    there = f"{HERE}courses/{course.pk}/"
    client.post(there + "modules/add/", {"new-title": "Forequarters"})
    module = Module.objects.get()
    inside = f"{HERE}modules/{module.pk}/"
    client.post(inside + "places/add/", {"new-kind": "plate", "new-plate": plate.pk})
    text = client.post(inside + "places/add/", {"new-kind": "text", "new-title": "Before you look"})
    client.post(text.url, {"title": "Before you look", "text": "Stand *back*."})
    client.post(inside + "places/add/", {"new-kind": "quiz", "new-title": "Shoulders"})
    kinds = [(place.kind, place.title, place.text) for place in module.places.all()]
    assert kinds == [
        ("plate", "", ""),
        ("text", "Before you look", "Stand *back*."),
        ("quiz", "Shoulders", ""),
    ]
    refused = client.post(there + "publish/", follow=True).content.decode()
    assert "Not published. Missing: A published module." in refused
    said = client.post(inside + "publish/", follow=True).content.decode()
    assert "once the course is published too" in said
    client.post(there + "publish/")
    course.refresh_from_db()
    assert course.state == "published"
    assert "Forequarters" in cast.client("trainee").get(HERE + "study/").content.decode()


def test_an_empty_club_is_told_what_comes_first(client):
    assert "Courses will be here" in client.get(HERE + "courses/").content.decode()
    assert "the standard comes first" in client.get(HERE + "plates/").content.decode()


def test_what_is_missing_in_a_module_is_named(client, edition):
    module = add_module(course=begin_course(edition=edition, title="C"), title="Forequarters")
    add_text(module=module, title="Before you look")
    page = client.get(f"{HERE}modules/{module.pk}/").content.decode()
    assert "The text “Before you look” is empty." in page
    refused = client.post(f"{HERE}modules/{module.pk}/publish/", follow=True).content.decode()
    assert "Not published. Missing: The text “Before you look” is empty." in refused


def test_a_place_without_what_it_needs_is_said_beside_its_field(client, edition):
    module = add_module(course=begin_course(edition=edition, title="C"), title="Forequarters")
    there = f"{HERE}modules/{module.pk}/places/add/"
    for form, said in (
        ({"new-kind": "plate"}, "Mend this: Choose a plate."),
        ({"new-kind": "text", "new-title": ""}, "Mend this: Give it a title."),
    ):
        answer = client.post(there, form)
        assert answer.status_code == 422
        assert said in answer.content.decode()
    assert not Place.objects.exists()


def test_modules_and_places_are_moved_with_and_without_script(client, edition):
    first = make_module(edition, "One", "Two", title="Head")
    second = make_module(edition, "Three", title="Neck", course=first.course)
    client.post(f"{HERE}modules/{second.pk}/move/", {"direction": "up"})
    assert [each.title for each in first.course.modules.all()] == ["Neck", "Head"]
    fragment = client.post(
        f"{HERE}modules/{second.pk}/move/", {"direction": "down"}, headers={"HX-Request": "true"}
    ).content.decode()
    assert fragment.index("Head") < fragment.index("Neck")
    assert fragment.startswith('<ol class="list" id="_modules">')
    one, two = first.places.all()
    fragment = client.post(
        f"{HERE}places/{two.pk}/move/", {"direction": "up"}, headers={"HX-Request": "true"}
    ).content.decode()
    assert fragment.index("Two") < fragment.index("One")
    client.post(f"{HERE}places/{one.pk}/remove/")
    assert list(first.places.all()) == [two]


def test_a_plates_place_leads_to_the_plate(cast, client, edition):
    plate = make_plate(edition, cast.educator)
    module = make_module(edition, plate)
    answer = client.get(f"{HERE}places/{module.places.get().pk}/")
    assert answer.url == f"{HERE}plates/{plate.pk}/"


def test_a_module_that_is_read_can_be_withdrawn_but_not_thrown_away(cast, client, edition):
    module = make_module(edition, "One")
    cast.client("trainee").get(f"{HERE}study/{module.pk}/{module.places.get().pk}/")
    page = client.get(f"{HERE}modules/{module.pk}/").content.decode()
    assert "One reader has begun it" in page
    assert "Throw it away" not in page
    client.post(f"{HERE}modules/{module.pk}/remove/")
    client.post(f"{HERE}modules/{module.pk}/withdraw/")
    assert Module.objects.get().state == "withdrawn"


def test_the_pages_cost_the_same_however_much_they_hold(cast, client, edition, django_assert_max_num_queries):
    module = make_module(edition, "One", make_plate(edition, cast.educator))
    pages = ["courses/", f"courses/{module.course_id}/", f"modules/{module.pk}/"]

    def spent() -> list[int]:
        counts = []
        for page in pages:
            with django_assert_max_num_queries(25) as queries:
                client.get(HERE + page)
            counts.append(len(queries))
        return counts

    before = spent()
    for title in ("Two", "Three"):
        make_module(edition, "A", "B", title=title, course=module.course)
        begin_course(edition=edition, title=title)
        add_text(module=module, title=title)
    assert spent() == before
