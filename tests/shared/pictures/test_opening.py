import io

import numpy as np
import pytest
from PIL import Image

from shared.pictures import limits
from shared.pictures.opening import OpenedPicture, open_picture
from tests.shared.pictures.making import ENCODED, encoded, scene

# EXIF 2.3 (CIPA DC-008), tag Orientation: on which side of the upright picture row 0 and column 0 lie.
SIDES = {
    1: ("top", "left"),
    2: ("top", "right"),
    3: ("bottom", "right"),
    4: ("bottom", "left"),
    5: ("left", "top"),
    6: ("right", "top"),
    7: ("right", "bottom"),
    8: ("left", "bottom"),
}


def stored_as(upright: Image.Image, orientation: int) -> Image.Image:
    """The pixels as a camera held that way would store them, straight from the definition of the tag."""
    pixels = np.asarray(upright)
    row, column = SIDES[orientation]
    if "bottom" in (row, column):
        pixels = pixels[::-1]
    if "right" in (row, column):
        pixels = pixels[:, ::-1]
    if row in ("left", "right"):
        pixels = pixels.swapaxes(0, 1)
    return Image.fromarray(np.ascontiguousarray(pixels))


def exif_with(orientation: int) -> Image.Exif:
    exif = Image.Exif()
    exif[0x0112] = orientation
    return exif


def furthest(opened: OpenedPicture, expected: Image.Image) -> float:
    """Mean difference in tone, over the picture brought to 60 × 40."""
    size = (60, 40)
    difference = np.asarray(opened.image.resize(size), float) - np.asarray(expected.resize(size), float)
    return float(np.abs(difference).mean())


@pytest.fixture(scope="module")
def photograph() -> Image.Image:
    return scene(2400, 1600)


@pytest.mark.parametrize("orientation", SIDES)
def test_a_camera_photograph_is_turned_upright(photograph: Image.Image, orientation: int) -> None:
    taken = encoded(stored_as(photograph, orientation), exif=exif_with(orientation))
    opened = open_picture(taken)
    assert opened.image.size == (opened.width, opened.height) == (2400, 1600)
    assert furthest(opened, photograph) < 2


@pytest.mark.parametrize("orientation", [6, 7])
def test_a_large_photograph_on_its_side_is_turned_and_made_narrower(orientation: int) -> None:
    upright = scene(600, 90).resize((6000, 900))
    opened = open_picture(encoded(stored_as(upright, orientation), exif=exif_with(orientation)))
    assert (opened.width, opened.height) == (6000, 900)
    assert opened.image.size == (2560, 384)
    assert furthest(opened, upright) < 2


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "AVIF", "TIFF"])
def test_every_format_that_can_say_which_way_is_up_is_listened_to(kind: str) -> None:
    upright = scene(120, 80)
    opened = open_picture(encoded(stored_as(upright, 6), kind, exif=exif_with(6)))
    assert opened.image.size == (120, 80)
    assert furthest(opened, upright) < 4


@pytest.mark.parametrize(
    ("kind", "told"),
    [("JPEG", "JPEG"), ("PNG", "PNG"), ("WEBP", "WebP"), ("AVIF", "AVIF"), ("TIFF", "TIFF")],
)
def test_the_content_decides_and_not_the_name(kind: str, told: str) -> None:
    picture = scene(90, 60)
    opened = open_picture(io.BytesIO(encoded(picture, kind)), name="dog.txt")
    assert (opened.format, opened.name, opened.image.mode) == (told, "dog.txt", "RGB")
    assert furthest(opened, picture) < 4


def test_a_file_that_was_read_before_is_read_from_its_beginning() -> None:
    file = io.BytesIO(encoded(scene(30, 20)))
    file.read()
    assert open_picture(file).width == 30


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "AVIF", "TIFF"])
def test_the_first_frame_of_an_animation_counts(kind: str) -> None:
    first, second = Image.new("RGB", (40, 30), (200, 30, 30)), Image.new("RGB", (40, 30), (30, 30, 200))
    moving = encoded(first, kind, save_all=True, append_images=[second])
    red, _, blue = open_picture(moving).image.getpixel((20, 15))
    assert red > 180
    assert blue < 60


def test_two_pictures_in_one_jpeg_give_the_first() -> None:
    stereo = encoded(
        Image.new("RGB", (40, 30), "red"),
        "MPO",
        save_all=True,
        append_images=[Image.new("RGB", (40, 30), "blue")],
    )
    opened = open_picture(stereo)
    assert opened.format == "JPEG"
    assert opened.image.getpixel((20, 15))[0] > 240


@pytest.mark.parametrize("kind", ENCODED)
def test_nothing_is_made_wider_and_nothing_wider_than_a_projector_is_kept(kind: str) -> None:
    assert open_picture(encoded(scene(50, 70), kind)).image.size == (50, 70)
    opened = open_picture(encoded(scene(3000, 150), kind))
    assert (opened.width, opened.height, opened.image.size) == (3000, 150, (limits.WIDEST, 128))


def test_halving_in_the_decoder_costs_nothing_that_can_be_seen() -> None:
    large = encoded(scene(1350, 175).resize((5400, 700)), quality=92)
    halved = np.asarray(open_picture(large).image, float)
    whole = Image.open(io.BytesIO(large)).resize((2560, 332), Image.Resampling.LANCZOS)
    noise = np.mean((halved - np.asarray(whole, float)) ** 2)
    assert 10 * np.log10(255**2 / noise) > 42
