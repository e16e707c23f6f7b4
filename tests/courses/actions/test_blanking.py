"""What is blanked is painted into every size, and only the kept original brings it back."""

import io
import json

import numpy as np
import pytest
from django.core.exceptions import ValidationError
from django.core.files.storage import default_storage
from PIL import Image

from courses.actions.blanking import blank_exhibit, remove_original, state_of_picture
from courses.models import Exhibit
from courses.refusals import Refused
from shared.pictures.blanking import COVER
from tests.makers import make_exhibit, make_photograph, make_published

# The picture is 300 by 200: units of its longer side.
BOX = [[0.1, 0.1], [0.4, 0.1], [0.4, 0.3], [0.1, 0.3]]
CORNER = [[0.8, 0.4], [1.0, 0.4], [1.0, 0.66666]]


@pytest.fixture
def blank(django_capture_on_commit_callbacks):
    def run(exhibit, *shapes, seen=None):
        exhibit = Exhibit.objects.get(pk=exhibit.pk)
        with django_capture_on_commit_callbacks(execute=True):
            blank_exhibit(
                exhibit=exhibit,
                shapes=list(shapes),
                seen=state_of_picture(exhibit) if seen is None else seen,
            )
        return Exhibit.objects.get(pk=exhibit.pk)

    return run


def pixels(rendition):
    with default_storage.open(rendition.file) as file:
        return np.asarray(Image.open(io.BytesIO(file.read())).convert("RGB")).astype(int)


def files() -> set[str]:
    return {f"pictures/{club}/{name}" for club in default_storage.listdir("pictures")[0]
            for name in default_storage.listdir(f"pictures/{club}")[1]}  # fmt: skip


def covered(rendition, x, y) -> bool:
    picture = pixels(rendition)
    longer = max(picture.shape[:2])
    there = picture[round(y * longer), round(x * longer)]
    return bool(np.abs(there - COVER).max() <= 6)  # what JPEG, WebP and AVIF change of a flat tone


def test_every_size_and_format_is_painted_solid_and_nothing_else_is(cast, blank):
    exhibit = make_photograph(cast.club, cast.educator)
    before = {each.format: pixels(each) for each in exhibit.renditions.all()}
    exhibit = blank(exhibit, BOX, CORNER)
    rows = list(exhibit.renditions.all())
    assert {each.format for each in rows} == {"avif", "webp", "jpeg"}
    for each in rows:
        assert all(covered(each, x, y) for x, y in ((0.12, 0.12), (0.38, 0.28), (0.25, 0.2), (0.98, 0.5)))
        far = pixels(each)[150:190, 20:200] - before[each.format][150:190, 20:200]
        assert np.abs(far).mean() < 2
    assert exhibit.blanked == [BOX, CORNER]


def test_the_sizes_before_are_gone_with_their_addresses(cast, blank):
    exhibit = make_published(cast.club, cast.educator)
    old = list(exhibit.renditions.values_list("name", flat=True))
    before = files()
    exhibit = blank(exhibit, BOX)
    assert not files() & before
    assert files() == set(exhibit.renditions.values_list("file", flat=True))
    client = cast.client("educator")
    assert {client.get(f"/clubs/skerry-drover/pictures/{name}").status_code for name in old} == {404}
    new = client.get(f"/clubs/skerry-drover/pictures/{exhibit.renditions.first().name}")
    assert new.status_code == 200
    new.getvalue()


def test_the_kept_original_brings_the_picture_back(cast, blank):
    exhibit = make_photograph(cast.club, cast.educator)
    names = set(exhibit.renditions.values_list("name", flat=True))
    assert set(blank(exhibit, BOX).renditions.values_list("name", flat=True)).isdisjoint(names)
    exhibit = blank(exhibit)
    assert set(exhibit.renditions.values_list("name", flat=True)) == names
    assert exhibit.blanked == []


def test_without_the_original_more_can_be_blanked_and_nothing_shown_again(
    cast, blank, django_capture_on_commit_callbacks
):
    exhibit = blank(make_photograph(cast.club, cast.educator), BOX)
    kept = exhibit.original.name
    with django_capture_on_commit_callbacks(execute=True):
        remove_original(exhibit=exhibit)
    assert not default_storage.exists(kept)
    with pytest.raises(Refused, match="stays so"):
        blank(exhibit, CORNER)
    exhibit = blank(exhibit, BOX, CORNER)
    jpeg = exhibit.renditions.get(format="jpeg")
    assert covered(jpeg, 0.25, 0.2)
    assert covered(jpeg, 0.98, 0.5)
    with pytest.raises(ValidationError, match="deleted already"):
        remove_original(exhibit=exhibit)


def test_two_who_blank_at_once_do_not_undo_one_another(cast, blank):
    exhibit = make_photograph(cast.club, cast.educator)
    seen = state_of_picture(exhibit)
    blank(exhibit, BOX, seen=seen)
    kept = files()
    with pytest.raises(Refused, match="by someone else"):
        blank(exhibit, CORNER, seen=seen)
    assert files() == kept
    assert Exhibit.objects.get(pk=exhibit.pk).blanked == [BOX]


def test_a_drawing_is_not_blanked(cast, blank):
    with pytest.raises(Refused, match="drawing"):
        blank(make_exhibit(cast.club, cast.educator), BOX)


@pytest.mark.parametrize(
    "shapes",
    [
        "x",
        [[[0.1, 0.1], [0.2, 0.2]]],
        [[[0.1, 0.1], [0.3, 0.3], [0.3, 0.1], [0.1, 0.3]]],
        [[[0.1, 0.1], [2.0, 0.1], [0.1, 0.3]]],
        [[["a", 0.1], [0.2, 0.1], [0.1, 0.3]]],
        [BOX] * 41,
    ],
)
def test_what_is_no_shape_changes_nothing(cast, shapes):
    exhibit = make_photograph(cast.club, cast.educator)
    kept = files()
    with pytest.raises(ValidationError):
        blank_exhibit(exhibit=exhibit, shapes=json.loads(json.dumps(shapes)), seen=state_of_picture(exhibit))
    assert files() == kept


def test_an_original_that_cannot_be_read_changes_nothing(cast, blank):
    exhibit = make_photograph(cast.club, cast.educator)
    kept = files()
    default_storage.delete(exhibit.original.name)
    with pytest.raises(OSError):
        blank(exhibit, BOX)
    assert files() == kept
    assert exhibit.renditions.count() == 3
