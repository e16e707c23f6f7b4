"""What is drawn over an exhibit, and where its words stand."""

import re

import pytest
from shapely.geometry import Polygon, box

from courses.figure import apply_faults, preview
from courses.measures.measures import measure
from courses.overlays import (
    Asked,
    Sheet,
    Shown,
    Words,
    dog_of,
    fault_regions,
    measure_lines,
    value_of,
)

SAID = {"within": "within", "outside": "outside", "cannot tell": "cannot tell"}
LAYBACK = Asked("layback", "Lay of shoulder", "5.1", 30, 40)


def at(label) -> tuple[float, float]:
    """Where a word stands, in thousandths of a picture 1000 wide and 700 high."""
    return 10 * float(label.x.rstrip("%")), 7 * float(label.y.rstrip("%"))


def room(label, letter: float = 23) -> Polygon:
    x, y = at(label)
    left = x if label.anchor == "start" else x - letter * len(label.text)
    return box(left, y - 23, left + letter * len(label.text), y + 23)


@pytest.fixture(scope="module")
def drawing():
    return preview("profile", apply_faults({"upright_shoulder": 0.8}), width=400)


def test_a_sheet_is_in_thousandths_of_its_longer_side():
    assert (Sheet.of(1600, 1200).width, Sheet.of(1600, 1200).height) == (1000, 750)
    assert (Sheet.of(600, 800).width, Sheet.of(600, 800).height) == (750, 1000)
    assert Sheet(750, 1000).per_cent((375, 250)) == ("50.00%", "25.00%")


def test_a_region_is_given_for_lines_and_for_hatching():
    sheet = Sheet.of(1000, 500)
    square = [[0.2, 0.1], [0.4, 0.1], [0.4, 0.2], [0.2, 0.2]]
    (region,) = fault_regions(sheet, Words(sheet, Polygon()), [Shown("5.1", [square])])
    assert region.points == "200.0,100.0 400.0,100.0 400.0,200.0 200.0,200.0"
    assert region.clip == "0.2000,0.2000 0.4000,0.2000 0.4000,0.4000 0.2000,0.4000"
    assert region.label.text == "5.1"


def test_a_fault_in_several_places_is_named_once_at_the_largest():
    sheet = Sheet(1000, 700)
    small = [[0.1, 0.1], [0.15, 0.1], [0.15, 0.15]]
    large = [[0.5, 0.3], [0.7, 0.3], [0.7, 0.5], [0.5, 0.5]]
    drawn = fault_regions(sheet, Words(sheet, Polygon()), [Shown("7.3", [small, large])])
    assert [bool(each.label) for each in drawn] == [False, True]
    x, y = float(drawn[1].label.x1[:-1]) * 10, float(drawn[1].label.y1[:-1]) * 7
    assert box(500, 300, 700, 500).contains(Polygon([(x - 1, y - 1), (x + 1, y - 1), (x, y + 1)]))


def test_words_stand_on_the_paper_clear_of_dog_and_one_another():
    sheet = Sheet(1000, 700)
    dog = box(250, 200, 800, 600)
    words = Words(sheet, dog)
    rooms = [
        room(words.place(text, place))
        for text, place in (
            ("35°", (300, 250)),
            ("25°, outside", (320, 260)),
            ("5.1", (780, 300)),
            ("5.2", (770, 330)),
        )
    ]
    for each in rooms:
        assert box(0, 0, 1000, 700).contains(each)
        assert each.intersection(dog).area < 0.05 * each.area
    for number, each in enumerate(rooms):
        assert all(each.intersection(other).area == 0 for other in rooms[number + 1 :])


def test_where_there_is_no_empty_paper_a_word_still_stands_on_the_picture():
    sheet = Sheet(1000, 700)
    words = Words(sheet, box(0, 0, 1000, 700))
    assert box(0, 0, 1000, 700).contains(room(words.place("35°, within", (500, 350))))


def test_a_measure_shows_its_bones_its_plumb_line_and_its_value(drawing):
    sheet = Sheet.of(*drawing.image.size)
    words = Words(sheet, dog_of(drawing.outline, ()))
    (drawn,) = measure_lines(
        sheet, words, drawing.points, [LAYBACK], placement_sd=0, camera="exact", said=SAID
    )
    value = round(measure(drawing.points, "layback", placement_sd=0, camera="exact").value)
    assert drawn.label.text == f"{value}°, outside"
    assert drawn.words == f"5.1 Lay of shoulder {value}°, outside"
    assert {stroke.kind for stroke in drawn.strokes} == {"bone", "plumb"}
    (bone,) = [stroke for stroke in drawn.strokes if stroke.kind == "bone"]
    ends = {(bone.x1, bone.y1), (bone.x2, bone.y2)}
    expected = {
        tuple(round(1000 * value, 1) for value in drawing.points[name])
        for name in ("blade_top", "point_of_shoulder")
    }
    assert ends == expected
    assert len(drawn.dots) == 2
    assert re.fullmatch(r"M[\d. ]+A[\d. ]+ 0 0 [01] [\d. ]+", drawn.arcs[0])


def test_of_several_measures_only_the_values_stand_on_the_picture(drawing):
    sheet = Sheet.of(*drawing.image.size)
    arm = Asked("upper_arm_to_blade", "Upper arm to blade", "5.2", 0.9, 1.05)
    words = Words(sheet, dog_of(drawing.outline, ()))
    drawn = measure_lines(
        sheet, words, drawing.points, [LAYBACK, arm], placement_sd=0.008, camera="unknown", said=SAID
    )
    assert all("±" in each.label.text and "," not in each.label.text for each in drawn)
    assert drawn[1].words.startswith("5.2 Upper arm to blade 0.9")
    assert drawn[1].words.endswith("cannot tell")


@pytest.mark.parametrize(
    ("value", "low", "high", "unit", "text"),
    [
        (35.2, 32.3, 38.1, "°", "35° ± 3"),
        (35.2, 35.2, 35.2, "°", "35°"),
        (0.951, 0.873, 1.029, "", "0.95 ± 0.08"),
        (-4.0, -6.0, -2.0, "°", "−4° ± 2"),
    ],
)
def test_a_value_is_said_with_half_its_interval(value, low, high, unit, text):
    from courses.measures.measures import Measurement

    assert value_of(Measurement("m", value, (high - low) / 3.92, low, high, unit, "")) == text


def test_without_an_outline_the_points_say_where_the_dog_is():
    dog = dog_of([], [(0.2, 0.2), (0.8, 0.2), (0.5, 0.6)])
    assert dog.contains(box(400, 250, 600, 350))
    assert dog_of([], []).is_empty
