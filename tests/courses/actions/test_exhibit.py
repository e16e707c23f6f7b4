"""Exhibits come in whole or not at all, and are shown only as their owners allow."""

import datetime
import io
from pathlib import Path

import pytest
from django.conf import settings
from django.core.files.base import ContentFile
from django.core.files.storage import FileSystemStorage, default_storage

from courses.actions.exhibit import (
    publish_exhibit,
    remove_exhibit,
    show_fault,
    take_in_exhibit,
    withdraw_exhibit,
)
from courses.models import Exhibit, PlateExhibit
from courses.refusals import NotReady, Refused
from shared.pictures.limits import WIDTHS
from shared.pictures.opening import PictureRefused
from tests.makers import make_breed, make_edition, make_fault, make_photograph, permit
from tests.shared.pictures.making import encoded, scene


def files() -> list[str]:
    root = Path(settings.MEDIA_ROOT)
    return sorted(str(path.relative_to(root)) for path in root.rglob("*") if path.is_file())


def take_in(cast, content: bytes, name: str = "IMG_0001.jpg"):
    return take_in_exhibit(
        club=cast.club,
        breed=make_breed(cast.club),
        file=io.BytesIO(content),
        name=name,
        made_by=cast.educator.person,
    )


def test_a_photograph_comes_in_with_its_size_sizes_and_original(cast):
    content = encoded(scene(1200, 800))
    exhibit = take_in(cast, content).exhibit
    assert (exhibit.number, exhibit.width, exhibit.height) == (1, 1200, 800)
    assert (exhibit.state, exhibit.verdict, exhibit.kind) == ("draft", "unsaid", "photograph")
    sizes = {(row.format, row.width, row.height) for row in exhibit.renditions.all()}
    widths = [(480, 320), (960, 640), (1200, 800)]
    assert sizes == {(kind, *size) for kind in ("avif", "webp", "jpeg") for size in widths}
    for row in exhibit.renditions.all():
        assert default_storage.size(row.file) == row.bytes
    with exhibit.original.open() as kept:
        assert kept.read() == content
    assert len(files()) == 10


def test_the_names_of_files_tell_nothing_of_the_exhibit(cast):
    make_fault(make_edition(cast.club), name="Upright shoulder")
    exhibit = take_in(cast, encoded(scene(600, 400)), "upright_shoulder_incorrect.jpg").exhibit
    assert exhibit.original_name == "upright_shoulder_incorrect.jpg"
    for word in ("shoulder", "incorrect", "jpg.", "exhibit"):
        assert not [path for path in files() if word in path]


def test_numbers_count_up_within_the_club(cast):
    first, second = (make_photograph(cast.club, cast.educator, seed) for seed in (1, 2))
    other = make_photograph(cast.other_club, cast.stranger)
    assert (first.number, second.number, other.number) == (1, 2, 1)


def test_the_same_photograph_is_noticed_and_another_is_not(cast):
    photograph = scene(900, 600, 3)
    assert take_in(cast, encoded(photograph)).alike == []
    again = take_in(cast, encoded(photograph.resize((450, 300)), quality=70))
    assert again.alike == [1]
    assert take_in(cast, encoded(scene(900, 600, 4))).alike == []


def test_another_club_does_not_learn_that_a_photograph_is_known(cast):
    content = encoded(scene(300, 200))
    make_photograph(cast.other_club, cast.stranger)
    assert take_in(cast, content).alike == []


def test_a_file_that_is_no_picture_leaves_nothing(cast):
    with pytest.raises(PictureRefused) as refused:
        take_in(cast, b"not a picture", "notes.txt")
    assert (refused.value.code, refused.value.name) == ("kind", "notes.txt")
    assert Exhibit.objects.count() == 0
    assert files() == []


class FullDisk(FileSystemStorage):
    """Writes four files and half of the fifth."""

    def _save(self, name, content):
        written = len(files())
        if written == 4:
            super()._save(name, ContentFile(content.read()[:100]))
            raise OSError("No space left on device")
        return super()._save(name, content)


def test_what_fails_half_way_leaves_nothing(cast, settings):
    backend = {"BACKEND": f"{__name__}.FullDisk"}
    settings.STORAGES = {**settings.STORAGES, "default": backend}
    with pytest.raises(OSError, match="No space"):
        take_in(cast, encoded(scene(1200, 800)))
    assert Exhibit.objects.count() == 0
    assert files() == []


def test_a_photograph_without_permission_is_not_published(cast):
    exhibit = make_photograph(cast.club, cast.educator)
    with pytest.raises(NotReady, match="no permission of the owner covers teaching today"):
        publish_exhibit(exhibit=exhibit)
    permit(exhibit, cast.educator, uses={"examination"})
    with pytest.raises(NotReady):
        publish_exhibit(exhibit=exhibit)
    exhibit.refresh_from_db()
    assert exhibit.state == "draft"


def test_a_photograph_with_permission_is_published_and_withdrawn(cast):
    exhibit = make_photograph(cast.club, cast.educator)
    permit(exhibit, cast.educator)
    publish_exhibit(exhibit=exhibit)
    exhibit.refresh_from_db()
    assert exhibit.state == "published"
    assert exhibit.published_at is not None
    withdraw_exhibit(exhibit=exhibit)
    exhibit.refresh_from_db()
    assert exhibit.state == "withdrawn"


def test_a_drawn_exhibit_needs_no_permission(cast):
    exhibit = make_photograph(cast.club, cast.educator, kind="drawn")
    publish_exhibit(exhibit=exhibit)
    assert exhibit.state == "published"


def test_a_fault_said_twice_is_one_fault_and_keeps_its_regions(cast):
    edition = make_edition(cast.club)
    fault = make_fault(edition)
    exhibit = make_photograph(cast.club, cast.educator, breed=edition.breed)
    shown = show_fault(exhibit=exhibit, fault=fault, clause=fault.clause, level=2)
    shown.regions = [[[0.1, 0.1], [0.2, 0.1], [0.2, 0.2]]]
    shown.save()
    show_fault(exhibit=exhibit, fault=fault, clause=None, level=1)
    kept = exhibit.shown_faults.get()
    assert (kept.level, kept.clause, len(kept.regions)) == (1, None, 1)


def test_a_fault_of_another_breed_is_refused(cast):
    fault = make_fault(make_edition(cast.other_club))
    exhibit = make_photograph(cast.club, cast.educator)
    with pytest.raises(Refused, match="another breed"):
        show_fault(exhibit=exhibit, fault=fault, clause=None, level=1)


def test_a_removed_exhibit_takes_its_files_with_it(cast, django_capture_on_commit_callbacks):
    exhibit = make_photograph(cast.club, cast.educator)
    with django_capture_on_commit_callbacks(execute=True):
        remove_exhibit(exhibit=exhibit)
    assert Exhibit.objects.count() == 0
    assert files() == []


def test_an_exhibit_on_a_plate_stays(cast):
    exhibit = make_photograph(cast.club, cast.educator)
    plate = make_edition(cast.club, breed=exhibit.breed).plates.create(number=1, title="Lay of shoulder")
    PlateExhibit.objects.create(plate=plate, exhibit=exhibit, side="correct")
    with pytest.raises(Refused, match="and stays"):
        remove_exhibit(exhibit=exhibit)
    assert Exhibit.objects.get() == exhibit


def test_no_rendition_is_wider_than_a_projector_needs(cast):
    exhibit = take_in(cast, encoded(scene(3000, 300))).exhibit
    assert exhibit.width == 3000
    assert max(row.width for row in exhibit.renditions.all()) == max(WIDTHS)


def test_permission_that_begins_tomorrow_does_not_publish_today(cast):
    exhibit = make_photograph(cast.club, cast.educator)
    tomorrow = datetime.date.today() + datetime.timedelta(days=2)
    permit(exhibit, cast.educator, starts_on=tomorrow)
    with pytest.raises(NotReady):
        publish_exhibit(exhibit=exhibit)
