"""A photograph's way: from a phone, through the owner's permission, to a trainee's screen.

The eight orientations are those of TIFF 6.0 and CIPA DC-008 (Exif): the tag says which way the stored rows
and columns were turned. What is uploaded is turned the other way first, so upright is what must come out.
"""

import functools
import io
import re

import numpy as np
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from tests.makers import make_breed
from tests.shared.pictures.making import scene

EXHIBITS = "/clubs/skerry-drover/exhibits/"
WIDE, HIGH = 1000, 750
MARK = (200, 20, 160)
SECRETS = (b"Taken by the slip", b"Pocket camera", b"2026:05:04 10:11:12")

# How upright pixels are turned before they are stored under the tag.
STORED = {
    1: None,
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_90,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_270,
}


@functools.cache
def upright() -> Image.Image:
    """Soft shapes with grain, a mark in the corner at the top left."""
    pixels = np.asarray(scene(WIDE, HIGH, seed=5), np.int16)
    grain = np.random.default_rng(5).integers(-12, 13, pixels.shape, np.int16)
    image = Image.fromarray(np.clip(pixels // 2 + 60 + grain, 0, 255).astype(np.uint8))
    image.paste(MARK, (0, 0, WIDE // 5, HIGH // 5))
    return image


def as_from_a_phone(orientation: int) -> bytes:
    """The JPEG that a phone held that way would send, with its notes on place, day and camera."""
    turn = STORED[orientation]
    image = upright() if turn is None else upright().transpose(turn)
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x010E] = "Taken by the slip"
    exif[0x0110] = "Pocket camera"
    exif[0x0132] = "2026:05:04 10:11:12"
    exif.get_ifd(0x8825)[1] = "N"
    exif.get_ifd(0x8825)[2] = (60.0, 9.0, 12.0)
    stream = io.BytesIO()
    image.save(stream, "JPEG", quality=90, exif=exif, comment=b"Taken by the slip")
    return stream.getvalue()


def addresses(page: str) -> list[str]:
    """Every picture that the page offers."""
    return sorted(set(re.findall(r"/clubs/skerry-drover/pictures/[0-9a-z.-]+", page)))


@pytest.mark.parametrize("orientation", sorted(STORED))
def test_a_photograph_reaches_the_trainee_upright_and_without_its_notes(cast, orientation):
    sent = as_from_a_phone(orientation)
    assert all(secret in sent for secret in SECRETS)
    educator, trainee = cast.client("educator"), cast.client("trainee")

    breed = make_breed(cast.club)
    file = SimpleUploadedFile("IMG_2041.jpg", sent, "image/jpeg")
    taken = educator.post(EXHIBITS + "new/", {"breed": breed.pk, "files": file})
    assert taken.url == EXHIBITS
    offered = addresses(educator.get(EXHIBITS + "1/").content.decode())
    assert len(offered) == 9
    assert {trainee.get(address).status_code for address in offered} == {404}

    owner = {"given_by": "Erlend Scollay", "starts_on": "2026-01-01", "how": "form", "uses": ["teaching"]}
    assert educator.post(EXHIBITS + "1/permission/", owner).status_code == 302
    assert educator.post(EXHIBITS + "1/publish/").url == EXHIBITS + "1/"

    for address in offered:
        served = trainee.get(address).getvalue()
        assert not [secret for secret in SECRETS if secret in served]
        with Image.open(io.BytesIO(served)) as image:
            assert not image.getexif()
            assert "icc_profile" not in image.info
            assert image.width * HIGH == pytest.approx(image.height * WIDE, rel=0.01)
            assert_upright(image)


def assert_upright(image: Image.Image) -> None:
    """The mark fills the corner at the top left and no other."""
    across, down = image.width // 10, image.height // 10
    rgb = image.convert("RGB")
    corners = {
        "top left": (across, down),
        "top right": (image.width - across, down),
        "bottom left": (across, image.height - down),
        "bottom right": (image.width - across, image.height - down),
    }
    marked = {
        name for name, place in corners.items() if np.abs(np.subtract(rgb.getpixel(place), MARK)).max() < 16
    }
    assert marked == {"top left"}
