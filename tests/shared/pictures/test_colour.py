"""Colours against values computed from the definitions, not from the library that converts."""

import io

import numpy as np
import pytest
from PIL import Image, ImageCms

from shared.pictures.limits import PAPER
from shared.pictures.opening import open_picture
from tests.shared.pictures.making import (
    P3_TO_XYZ,
    SRGB_TO_XYZ,
    display_p3_profile,
    encoded,
    linear_grey_profile,
    linear_to_srgb,
    scene,
    srgb_to_linear,
)


def middle(content: bytes) -> tuple[int, ...]:
    image = open_picture(content).image
    assert image.mode == "RGB"
    return image.getpixel((image.width // 2, image.height // 2))


def test_ink_on_paper_becomes_light() -> None:
    """Without a profile: what is left of the light by ink and black, (1 − c)(1 − k)."""
    inks = np.array([0.2, 0.4, 0.6, 0.1])
    separations = Image.new("CMYK", (20, 20), tuple(int(value) for value in 255 * inks))
    expected = 255 * (1 - inks[:3]) * (1 - inks[3])
    assert middle(encoded(separations, "TIFF")) == pytest.approx(tuple(expected), abs=1.5)
    assert middle(encoded(separations, "JPEG", quality=100)) == pytest.approx(tuple(expected), abs=3)


@pytest.mark.parametrize("kind", ["PNG", "TIFF"])
def test_sixteen_bit_grey_is_scaled_and_not_cut(kind: str) -> None:
    ramp = np.arange(0, 65536, 97, dtype=np.uint16).reshape(4, -1)
    shown = np.asarray(open_picture(encoded(Image.fromarray(ramp), kind)).image)
    expected = np.round(ramp / 257).astype(np.uint8)
    assert np.array_equal(shown, np.repeat(expected[:, :, None], 3, axis=2))


@pytest.mark.parametrize(
    ("mode", "colour", "expected"),
    [
        ("1", 1, (255, 255, 255)),
        ("L", 77, (77, 77, 77)),
        ("P", 0, (12, 140, 201)),
        ("LA", (77, 255), (77, 77, 77)),
        ("RGBA", (12, 140, 201, 255), (12, 140, 201)),
        ("RGBA", (12, 140, 201, 0), PAPER),
        ("RGBA", (0, 0, 0, 51), tuple(round(0.8 * tone) for tone in PAPER)),
        ("LA", (255, 0), PAPER),
    ],
)
def test_each_kind_of_pixel_becomes_rgb(mode: str, colour: object, expected: tuple[int, ...]) -> None:
    image = Image.new(mode, (20, 20), colour)
    if mode == "P":
        image.putpalette([12, 140, 201] + [0] * 765)
    assert middle(encoded(image, "PNG")) == pytest.approx(expected, abs=1)


def test_a_transparent_palette_entry_shows_the_paper() -> None:
    image = Image.new("P", (20, 20), 1)
    image.putpalette([0, 0, 0, 255, 0, 0] + [0] * 762)
    assert middle(encoded(image, "PNG", transparency=1)) == PAPER


def test_a_transparent_colour_shows_the_paper() -> None:
    assert middle(encoded(Image.new("RGB", (20, 20), (1, 2, 3)), "PNG", transparency=(1, 2, 3))) == PAPER


def test_transparent_edges_keep_no_rim_when_made_smaller() -> None:
    """Half the columns are opaque white, half transparent black: black must not bleed into the white."""
    pixels = np.zeros((40, 4000, 4), np.uint8)
    pixels[:, ::2] = 255
    shown = np.asarray(open_picture(encoded(Image.fromarray(pixels), "PNG")).image)
    assert shown.min() > 0xE0


def test_a_very_wide_transparent_picture_is_made_smaller_without_seams() -> None:
    picture = scene(940, 60).resize((9401, 601))
    picture.putalpha(scene(940, 60, 1).convert("L").resize((9401, 601)))
    shown = np.asarray(open_picture(encoded(picture, "PNG", compress_level=1)).image, float)
    page = Image.new("RGBA", picture.size, (*PAPER, 255))
    whole = Image.alpha_composite(page, picture).convert("RGB").resize((2560, 164), Image.Resampling.LANCZOS)
    assert np.abs(shown - np.asarray(whole, float)).max() <= 3


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "AVIF", "TIFF"])
@pytest.mark.parametrize("colour", [(200, 120, 80), (60, 90, 40), (128, 128, 128)])
def test_a_wide_gamut_photograph_keeps_its_colours(kind: str, colour: tuple[int, ...]) -> None:
    light = np.linalg.inv(SRGB_TO_XYZ) @ P3_TO_XYZ @ srgb_to_linear(np.array(colour) / 255)
    expected = 255 * linear_to_srgb(light)
    best = {"quality": 100, "subsampling": "4:4:4"} if kind in ("JPEG", "AVIF") else {}
    lossless = {"lossless": True} if kind == "WEBP" else {}
    image = Image.new("RGB", (20, 20), colour)
    shown = middle(encoded(image, kind, icc_profile=display_p3_profile(), **best, **lossless))
    assert shown == pytest.approx(tuple(expected), abs=2 if kind in ("JPEG", "AVIF") else 1)


def test_grey_with_a_profile_of_its_own() -> None:
    content = encoded(Image.new("L", (20, 20), 55), "PNG", icc_profile=linear_grey_profile())
    assert middle(content) == pytest.approx([255 * linear_to_srgb(np.array(55 / 255))] * 3, abs=1)


def test_the_transparent_part_of_a_wide_gamut_picture_is_still_paper() -> None:
    image = Image.new("RGBA", (20, 20), (200, 120, 80, 0))
    assert middle(encoded(image, "PNG", icc_profile=display_p3_profile())) == PAPER


def test_a_picture_that_is_srgb_already_is_left_alone() -> None:
    picture = scene(64, 48)
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    assert np.array_equal(open_picture(encoded(picture, "PNG", icc_profile=profile)).image, picture)


@pytest.mark.parametrize("profile", [b"no profile at all", linear_grey_profile(), display_p3_profile()[:300]])
def test_a_bad_profile_counts_as_srgb(profile: bytes) -> None:
    picture = scene(64, 48)
    assert np.array_equal(open_picture(encoded(picture, "PNG", icc_profile=profile)).image, picture)


def test_lab_separations() -> None:
    """CIE L* = 50 on the neutral axis is sRGB 119 (Y = 0.184187 by the CIE formula)."""
    image = Image.frombytes("LAB", (20, 20), bytes([round(50 * 2.55), 0, 0]) * 400)
    stream = io.BytesIO()
    image.save(stream, "TIFF")
    assert middle(stream.getvalue()) == pytest.approx((119, 119, 119), abs=2)
