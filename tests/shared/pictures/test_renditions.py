import io
import struct

import numpy as np
import pytest
from PIL import Image, PngImagePlugin

from shared.pictures.limits import WIDTHS
from shared.pictures.opening import open_picture
from shared.pictures.renditions import FORMATS, renditions
from tests.shared.pictures.making import display_p3_profile, encoded, scene

SECRETS = (b"Marquay", b"KINGFISHER-CAM", b"ring 27", b"51.63")


def photograph_with_everything(kind: str) -> bytes:
    exif = Image.Exif()
    exif[0x010F] = "KINGFISHER-CAM"
    exif[0x9286] = "Marquay"
    exif.get_ifd(0x8825).update({1: "N", 2: (51.63, 4.0, 0.0), 29: "ring 27"})
    xmp = b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><place>Marquay 51.63</place></x:xmpmeta>'
    options: dict[str, object] = {"exif": exif, "icc_profile": display_p3_profile()}
    if kind in ("JPEG", "WEBP", "AVIF"):
        options["xmp"] = xmp
    if kind == "JPEG":
        options["comment"] = b"ring 27"
    if kind == "PNG":
        options["pnginfo"] = PngImagePlugin.PngInfo()
        options["pnginfo"].add_text("Comment", "ring 27")
        options["pnginfo"].add_itxt("XML:com.adobe.xmp", xmp.decode())
    return encoded(scene(500, 320), kind, **options)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "AVIF", "TIFF"])
def test_nothing_but_pixels_leaves(kind: str) -> None:
    content = photograph_with_everything(kind)
    assert any(secret in content for secret in SECRETS)
    opened = open_picture(content)
    assert opened.image.info == {}
    for made in renditions(opened.image):
        assert not [secret for secret in SECRETS if secret in made.data]
        assert set(PARTS[made.format](made.data)) <= ALLOWED[made.format]
        again = Image.open(io.BytesIO(made.data))
        assert not again.getexif()
        assert not {"exif", "xmp", "icc_profile", "comment"} & set(again.info)


def jpeg_parts(data: bytes) -> list[str]:
    """Marker segments up to the first scan."""
    parts, place = [], 2
    while data[place + 1] != 0xDA:
        parts.append(f"{data[place + 1]:02X}")
        place += 2 + struct.unpack(">H", data[place + 2 : place + 4])[0]
    return parts


def webp_parts(data: bytes) -> list[str]:
    parts, place = [], 12
    while place < len(data):
        parts.append(data[place : place + 4].decode())
        size = struct.unpack("<I", data[place + 4 : place + 8])[0]
        place += 8 + size + size % 2
    return parts


def avif_parts(data: bytes) -> list[str]:
    """The kinds of item that the file declares."""
    return [data[at + 12 : at + 16].decode() for at in range(len(data)) if data[at : at + 4] == b"infe"]


PARTS = {"jpeg": jpeg_parts, "webp": webp_parts, "avif": avif_parts}
# JPEG: JFIF, quantisation, Huffman, frame; no APP1…APP15 (E1–EF), no comment (FE).
ALLOWED = {"jpeg": {"E0", "DB", "C4", "C0", "C2"}, "webp": {"VP8 "}, "avif": {"av01"}}


def test_the_widths_and_formats_of_a_large_picture() -> None:
    made = list(renditions(scene(2560, 160)))
    assert [(each.width, each.format) for each in made] == [
        (width, kind) for width in sorted(WIDTHS, reverse=True) for kind in FORMATS
    ]
    for each in made:
        image = Image.open(io.BytesIO(each.data))
        assert image.size == (each.width, each.height) == (each.width, each.width // 16)
        assert image.format is not None
        assert image.format.lower() == each.format


@pytest.mark.parametrize(("width", "made"), [(300, [300]), (480, [480]), (1200, [1200, 960, 480])])
def test_a_small_picture_is_never_made_wider(width: int, made: list[int]) -> None:
    assert [each.width for each in renditions(scene(width, 40), formats=["jpeg"])] == made


@pytest.mark.parametrize("kind", FORMATS)
def test_a_rendition_looks_like_the_picture(kind: str) -> None:
    picture = scene(600, 400)
    for made in renditions(picture, formats=[kind]):
        expected = np.asarray(picture.resize((made.width, made.height), Image.Resampling.LANCZOS), float)
        shown = np.asarray(Image.open(io.BytesIO(made.data)).convert("RGB"), float)
        assert 10 * np.log10(255**2 / np.mean((shown - expected) ** 2)) > 35


def test_names_follow_the_pixels_and_nothing_else() -> None:
    picture = scene(500, 320)
    annotated = picture.copy()
    annotated.info["comment"] = "steep croup, incorrect"
    changed = picture.copy()
    changed.putpixel((250, 160), (1, 2, 3))
    names = [[made.name for made in renditions(image)] for image in (picture, annotated, changed)]
    assert names[0] == names[1]
    assert not set(names[0]) & set(names[2])
    assert len(set(names[0])) == len(names[0])
    digest, rest = names[0][0].split("-")
    assert (len(digest), rest) == (32, "500.avif")


def test_renditions_come_one_at_a_time() -> None:
    stream = renditions(scene(500, 320))
    assert next(stream).width == 500
    assert iter(stream) is stream
