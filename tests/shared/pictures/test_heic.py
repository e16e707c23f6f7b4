"""What phones send."""

import numpy as np
import pytest
from PIL import Image

from shared.pictures.opening import PictureRefused, open_picture
from shared.pictures.renditions import renditions
from tests.shared.pictures.heic import heic
from tests.shared.pictures.making import (
    P3_TO_XYZ,
    SRGB_TO_XYZ,
    display_p3_profile,
    linear_to_srgb,
    scene,
    srgb_to_linear,
)


def exif(orientation: int) -> bytes:
    notes = Image.Exif()
    notes[0x0112] = orientation
    notes[0x010F] = "KINGFISHER-CAM"
    return notes.tobytes()[6:]


def distance(one: Image.Image, other: Image.Image) -> float:
    return float(np.abs(np.asarray(one, float) - np.asarray(other, float)).mean())


def test_a_photograph_from_a_phone() -> None:
    picture = scene(160, 96)
    opened = open_picture(heic(picture), name="IMG_0001.HEIC")
    assert (opened.format, opened.width, opened.height) == ("HEIC", 160, 96)
    assert distance(opened.image, picture) < 3


@pytest.mark.parametrize("turns", range(4))
@pytest.mark.parametrize("noted", [None, 1, 6, 8])
def test_it_is_turned_once_and_not_again_for_the_notes_beside_it(turns: int, noted: int | None) -> None:
    """ISO/IEC 23008-12: the turn is a property of the picture; EXIF repeats it for information only."""
    upright = scene(96, 64)
    stored = Image.fromarray(np.ascontiguousarray(np.rot90(np.asarray(upright), -turns)))
    opened = open_picture(heic(stored, quarter_turns=turns, exif=exif(noted) if noted else b""))
    assert opened.image.size == (opened.width, opened.height) == (96, 64)
    assert distance(opened.image, upright) < 4


def test_its_notes_stay_behind() -> None:
    content = heic(scene(96, 64), exif=exif(1))
    assert b"KINGFISHER-CAM" in content
    opened = open_picture(content)
    assert opened.image.info == {}
    assert not any(b"KINGFISHER-CAM" in made.data for made in renditions(opened.image))


def test_its_wide_colours_are_kept() -> None:
    colour = (200, 120, 80)
    expected = 255 * linear_to_srgb(
        np.linalg.inv(SRGB_TO_XYZ) @ P3_TO_XYZ @ srgb_to_linear(np.array(colour) / 255)
    )
    opened = open_picture(heic(Image.new("RGB", (64, 32), colour), icc_profile=display_p3_profile()))
    assert opened.image.getpixel((20, 10)) == pytest.approx(tuple(expected), abs=4)


@pytest.mark.parametrize("kept", [0.02, 0.3, 0.9])
def test_one_that_is_cut_off(kept: float) -> None:
    whole = heic(scene(96, 64))
    with pytest.raises(PictureRefused) as refused:
        open_picture(whole[: int(kept * len(whole))], name="IMG_0002.HEIC")
    assert refused.value.code == "damaged"


def test_one_that_claims_too_many_pixels() -> None:
    with pytest.raises(PictureRefused, match="60 million"):
        open_picture(heic(scene(64, 32), claims=(9000, 9000)))
