"""The kept pictures are those that the scenario asks for, and what the figure draws today."""

import io

import numpy as np
import pytest
from PIL import Image

from courses.figure import draw
from media_demo.figures import Figure, item_figure, plate_figure
from media_demo.loading import read_scenario
from media_demo.pictures import FOLDER, index_of, path_of, picture_of, prepare, read_index

FIGURES = read_scenario().figures()
ADVICE = "Run python -m media_demo.draw, and look at what it drew."
ALIKE = 2  # levels of 255: what a WebP loses, and what another version of a library may round otherwise
REDUCED = 400  # pixels in width to which both are brought before they are compared


def reduced(image: Image.Image) -> np.ndarray:
    small = image.convert("RGB").resize(
        (REDUCED, round(REDUCED * image.height / image.width)), Image.Resampling.BOX
    )
    return np.asarray(small, dtype=float)


def test_each_figure_has_its_picture_and_there_are_no_others():
    kept = {path.name for path in FOLDER.glob("*.webp")}
    assert kept == {path_of(figure).name for figure in FIGURES}, ADVICE
    assert read_index() == index_of(FIGURES), ADVICE


def test_they_take_little_room():
    assert sum(path.stat().st_size for path in FOLDER.glob("*.webp")) < 12_000_000


def test_they_are_as_fine_as_they_are_asked_to_be():
    for figure in FIGURES[::10]:
        with Image.open(path_of(figure)) as picture:
            assert picture.width == figure.width


@pytest.mark.parametrize("view", ["profile", "rear", "feet"])
def test_drawn_anew_they_are_the_same(view):
    """The last of each view, since faults and coats differ most from the ideal there."""
    figure = [each for each in FIGURES if each.view == view][-1]
    anew = draw(figure.view, figure.settings, figure.width).image
    with Image.open(path_of(figure)) as kept:
        assert kept.size == anew.size
        assert np.abs(reduced(kept) - reduced(anew)).mean() <= ALIKE, f"{figure.key}: {ADVICE} --all"


def test_another_dog_would_be_noticed():
    """The comparison can fail: the same view of another figure is further away."""
    one, other = [figure for figure in FIGURES if figure.view == "profile"][:2]
    with Image.open(path_of(one)) as first, Image.open(path_of(other)) as second:
        assert np.abs(reduced(first) - reduced(second)).mean() > ALIKE


def test_the_key_of_a_figure_follows_its_view_and_settings_alone():
    plate = {"view": "head", "coat": "red"}
    one = plate_figure(plate, {"faults": {"domed_skull": 0.5}})
    assert one.key == plate_figure(plate, {"faults": {"domed_skull": 0.5}}).key
    assert one.key == Figure(one.view, one.settings).key
    others = [
        plate_figure(plate, {}),
        plate_figure(plate, {"faults": {"domed_skull": 0.6}}),
        plate_figure(plate, {"faults": {"domed_skull": 0.5}, "coat": "cream"}),
        plate_figure({**plate, "view": "profile"}, {"faults": {"domed_skull": 0.5}}),
        item_figure({"view": "head", "faults": {"domed_skull": 0.5}}, {"coat": "red", "seed": 4}),
    ]
    assert len({figure.key for figure in [one, *others]}) == 6


def test_a_picture_that_is_not_kept_is_drawn_smaller():
    figure = plate_figure({"view": "feet", "coat": "cream"}, {"faults": {"long_nails": 0.61}})
    assert not path_of(figure).exists()
    with Image.open(io.BytesIO(picture_of(figure))) as picture:
        assert 300 < picture.width < figure.width


def test_an_exhibit_brings_its_kept_picture_as_it_is():
    figure = next(each for each in FIGURES if each.faults)
    ready = prepare(figure)
    assert (ready.renditions[0].format, ready.renditions[0].data) == ("webp", path_of(figure).read_bytes())
    assert {row.format for row in ready.renditions} == {"webp", "jpeg"}
    assert sorted({row.width for row in ready.renditions}) == sorted({480, figure.width})
    assert set(ready.regions) == dict(figure.faults).keys()
    assert all(ready.regions.values())
    assert ready.points
