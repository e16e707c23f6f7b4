"""A large photograph's way from the camera to a measured comparison: taken in, permitted, blanked, placed, measured.

What is photographed is a drawn dog over a field, so that its true angles are known: the drawing was built
from them. Two people place its points with the error that is usual (0.8 % of the height); what the pages
then say must hold the truth.
"""

from __future__ import annotations

import io
import json
import re
import uuid

import numpy as np
import pytest
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from courses.figure import apply_faults, draw
from courses.measures.measures import PLACEMENT_SD
from courses.measures.points import POINTS
from courses.models import Exhibit
from courses.queries.measures import measured, placed_on
from shared.pictures.blanking import COVER
from tests.makers import make_clause, make_edition, make_module, make_plate
from tests.shared.pictures.making import scene

CLUB = "/clubs/skerry-drover/"
LARGE, SMALL = (1700, 1206), (800, 568)
FACE = [[0.02, 0.02], [0.12, 0.02], [0.12, 0.14], [0.02, 0.14]]  # of whoever stands at the left edge
HANDLER = (255, 40, 200)
AS_TAKEN = Image.Transpose.ROTATE_90  # stored under orientation 6, as a phone held upright does


def photograph(faults: dict[str, float], size: tuple[int, int], *, mirrored: bool) -> tuple[bytes, dict]:
    """A JPEG, the larger of two megapixels, and where the points are on it."""
    wide = size[0]
    drawing = draw("profile", apply_faults(faults), width=600)
    dog = np.asarray(drawing.image.convert("RGB").resize(size), np.int16)
    paper = np.abs(dog - (0xF7, 0xF1, 0xE4)).sum(axis=2) < 40
    field = np.asarray(scene(*size), np.int16) // 2 + 70
    picture = Image.fromarray(np.where(paper[..., None], field, dog).astype(np.uint8))
    points = dict(drawing.points)
    if mirrored:
        picture = picture.transpose(Image.Transpose.FLIP_LEFT_RIGHT)
        points = {name: (1 - x, y) for name, (x, y) in points.items()}
    picture.paste(HANDLER, tuple(round(share * wide) for share in (0.03, 0.03, 0.11, 0.13)))
    exif = Image.Exif()
    exif[0x0112] = 6
    stream = io.BytesIO()
    picture.transpose(AS_TAKEN).save(stream, "JPEG", quality=92, exif=exif)
    return stream.getvalue(), points


def take_in(client, edition, content: bytes) -> int:
    form = {"breed": edition.breed_id, "files": SimpleUploadedFile("show.jpg", content)}
    answer = client.post(CLUB + "exhibits/new/", form, headers={"HX-Request": "true"})
    return int(re.search(r"/exhibits/(\d+)/", answer.content.decode())[1])


def place(client, number: int, points: dict, hand: np.random.Generator) -> None:
    """One person's points, each off by chance, saved in two goes and finished."""
    height = points["ground_front"][1] - points["withers"][1]
    off = {
        point.name: [points[point.name][axis] + hand.normal(0, PLACEMENT_SD * height) for axis in (0, 1)]
        for point in POINTS["profile"]
    }
    here = f"{CLUB}exhibits/{number}/points/"
    some = dict(list(off.items())[:7])
    for seen, sent in enumerate((some, off)):
        body = {"content": {"points": sent}, "seen": seen, "identity": str(uuid.uuid4())}
        assert (
            client.post(here + "save/", json.dumps(body), content_type="application/json").status_code == 200
        )
    assert client.post(here + "finish/", {"seen": "2"}).status_code == 302


@pytest.fixture
def edition(cast):
    made = make_edition(cast.club)
    make_clause(made, "5.1", zone="forequarters", measure="layback", low=30, high=40)
    return made


def test_a_photograph_from_the_camera_to_the_comparison(cast, edition):
    educator, mentor, trainee = (cast.client(who) for who in ("educator", "mentor", "trainee"))
    angle, numbers = {}, {}
    for name, faults, size in (("sound", {}, LARGE), ("steep", {"upright_shoulder": 0.9}, SMALL)):
        content, points = photograph(faults, size, mirrored=name == "steep")
        number = numbers[name] = take_in(educator, edition, content)
        angle[name] = apply_faults(faults)["layback"]
        exhibit = Exhibit.objects.get(number=number)
        assert (exhibit.width, exhibit.height) == size
        if name == "sound":
            blank_face(educator, number)
        record_and_publish(educator, number)
        for who, seed in ((educator, 1), (mentor, 2)):
            place(who, number, points, np.random.default_rng([seed, number]))
        measured_truly(educator, number, angle[name])

    sound, steep = (Exhibit.objects.get(number=numbers[name]) for name in ("sound", "steep"))
    plate = make_plate(edition, cast.educator, correct=[sound], incorrect=[steep])
    make_module(edition, plate)
    page = trainee.get(f"{CLUB}plates/{plate.pk}/compare/")
    pair = page.context["pair"]
    layback = pair.rows[0]
    assert layback.measure.name == "layback"
    assert (
        abs(layback.difference.difference - (angle["steep"] - angle["sound"])) < 1.96 * layback.difference.sd
    )
    assert layback.difference.exceeds
    assert pair.ways[0].fit.reflected
    assert layback.words in " ".join(page.content.decode().split())

    cast.client("secretary").post(f"{CLUB}exhibits/{steep.number}/permission/withdraw/")
    gone = trainee.get(f"{CLUB}plates/{plate.pk}/compare/").content.decode()
    assert "Picture withdrawn" in gone
    assert layback.words not in gone
    for rendition in steep.renditions.all():
        assert trainee.get(f"{CLUB}pictures/{rendition.name}").status_code == 404


def blank_face(client, number: int) -> None:
    """The handler's face is in no size of the picture afterwards."""
    here = f"{CLUB}exhibits/{number}/blank/"
    seen = client.get(here).context["seen"]
    assert client.post(here, {"shapes": json.dumps([FACE]), "seen": seen}).status_code == 302
    rows = list(Exhibit.objects.get(number=number).renditions.all())
    assert len({row.width for row in rows}) > 2
    for row in rows:
        with default_storage.open(row.file) as file:
            pixels = np.asarray(Image.open(file).convert("RGB"), int)
        edge = [round(side * row.width) for side in (0.03, 0.11)]
        covered = pixels[edge[0] : edge[1], edge[0] : edge[1]]
        assert np.abs(covered - COVER).max() < 30
        assert not (np.abs(pixels - HANDLER).sum(axis=2) < 60).any()


def record_and_publish(client, number: int) -> None:
    here = f"{CLUB}exhibits/{number}/"
    said = {"given_by": "Erlend Scollay", "how": "form", "starts_on": "2026-01-01", "uses": ["teaching"]}
    assert client.post(here + "publish/").url == here + "permission/"
    assert client.post(here + "permission/", said).url == here
    assert client.post(here + "publish/").url == here


def measured_truly(client, number: int, truth: float) -> None:
    """The interval that the page shows holds the angle that the dog was built with."""
    exhibit = Exhibit.objects.get(number=number)
    rows = {row.measure.name: row for row in measured(placed_on(exhibit), "profile")}
    assert rows["layback"].taken.low < truth < rows["layback"].taken.high
    page = " ".join(client.get(f"{CLUB}exhibits/{number}/measures/").content.decode().split())
    assert rows["layback"].value in page
    assert "Points placed by 2 people." in page
