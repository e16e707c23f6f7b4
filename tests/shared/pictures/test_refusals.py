"""What must not come in, and the words that say so."""

import io
import struct
import tracemalloc
import zipfile
import zlib

import numpy as np
import pytest
from PIL import Image

from shared.pictures import limits
from shared.pictures.opening import PictureRefused, open_picture
from tests.shared.pictures.heic import heic
from tests.shared.pictures.making import ENCODED, display_p3_profile, encoded, png, scene

SVG = b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><script>alert(1)</script></svg>'


def refused(content: bytes, name: str = "dog.jpg") -> PictureRefused:
    with pytest.raises(PictureRefused) as caught:
        open_picture(content, name=name)
    return caught.value


def archive() -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as file:
        file.writestr("dog.jpg", encoded(scene(20, 20)))
    return stream.getvalue()


@pytest.mark.parametrize(
    "content",
    [
        b"A dog of medium size.",
        SVG,
        archive(),
        b"%PDF-1.7\n",
        b"GIF89a" + bytes(40),
        b"BM" + bytes(60),
        b"\0" * 64,
    ],
    ids=["text", "svg", "zip", "pdf", "gif", "bmp", "zeros"],
)
def test_what_is_no_picture_of_a_kind_taken_here(content: bytes) -> None:
    refusal = refused(content)
    assert refusal.code == "kind"
    assert str(refusal) == "dog.jpg is not a picture in JPEG, PNG, WebP, AVIF, TIFF or HEIC."


def test_an_empty_file() -> None:
    assert str(refused(b"")) == "dog.jpg is empty."
    assert str(refused(b"", name="")) == "The file is empty."


def test_a_file_that_is_too_large_is_not_read_to_its_end() -> None:
    class Endless(io.RawIOBase):
        def seek(self, offset: int, whence: int = 0) -> int:
            return offset

        def read(self, size: int = -1) -> bytes:
            assert 0 < size <= limits.LARGEST_BYTES + 1
            return bytes(size)

    assert refused(Endless()).reason == "is larger than 40 MB"


@pytest.mark.parametrize("kept", [0.05, 0.5, 0.9])
@pytest.mark.parametrize("kind", ENCODED)
def test_a_picture_that_is_cut_off(kind: str, kept: float) -> None:
    whole = encoded(scene(200, 150), kind)
    assert refused(whole[: int(kept * len(whole))]).code == "damaged"


@pytest.mark.parametrize("kind", ["PNG", "TIFF"])
def test_a_picture_whose_body_was_overwritten(kind: str) -> None:
    whole = bytearray(encoded(scene(200, 150), kind, compression="tiff_adobe_deflate"))
    whole[200:-400] = b"\x55" * (len(whole) - 600)
    assert refused(bytes(whole)).code == "damaged"


@pytest.mark.parametrize(
    "size", [(8000, 7501), (9500, 9500), (13_000, 13_000), (60_000, 60_000), (2**31 - 1, 2)]
)
def test_a_header_that_claims_too_many_pixels_is_refused_before_they_are_made(size: tuple[int, int]) -> None:
    bomb = png(*size, (b"IDAT", zlib.compress(bytes(1_000_000), 9)))
    tracemalloc.start()
    assert refused(bomb).reason == "has more than 60 million pixels"
    assert tracemalloc.get_traced_memory()[1] < 5_000_000
    tracemalloc.stop()


def test_a_jpeg_header_that_claims_too_many_pixels() -> None:
    content = bytearray(encoded(scene(64, 64)))
    start = content.index(b"\xff\xc0")
    content[start + 5 : start + 9] = struct.pack(">HH", 65_500, 65_500)
    assert refused(bytes(content)).code == "pixels"


@pytest.mark.parametrize("kind", ["PNG", "TIFF", "JPEG"])
def test_a_strip_that_is_too_long(kind: str) -> None:
    strip = encoded(Image.new("L", (limits.LONGEST_SIDE + 1, 4), 200), kind)
    assert refused(strip).reason == "is longer than 16,000 pixels on one side"


def test_a_comment_that_unpacks_to_a_mountain_is_not_unpacked() -> None:
    mountain = zlib.compress(bytes(200_000_000), 9)
    content = png(4, 4, (b"zTXt", b"Comment\0\0" + mountain), (b"IDAT", zlib.compress(bytes(52))))
    tracemalloc.start()
    assert refused(content).code == "damaged"
    assert tracemalloc.get_traced_memory()[1] < 20_000_000
    tracemalloc.stop()


def test_numbers_that_are_not_tones() -> None:
    floats = Image.fromarray(np.linspace(0, 1, 400, dtype=np.float32).reshape(20, 20))
    integers = Image.fromarray(np.arange(0, 400_000, 1000, dtype=np.int32).reshape(20, 20))
    assert refused(encoded(floats, "TIFF")).code == "depth"
    assert refused(encoded(integers, "TIFF")).code == "depth"


def test_broken_notes_about_the_picture_do_not_keep_it_out() -> None:
    content = encoded(scene(60, 40), exif=b"Exif\0\0II*\0\xff\xff\xff\xff" + bytes(6))
    assert open_picture(content).image.size == (60, 40)


def test_a_refusal_is_a_value_error() -> None:
    assert isinstance(refused(SVG), ValueError)


@pytest.mark.parametrize("kind", [*ENCODED, "HEIC"])
def test_a_file_with_a_few_wrong_bytes_opens_or_is_refused_and_nothing_else_happens(kind: str) -> None:
    chance = np.random.default_rng(30)
    profile = display_p3_profile()
    whole = (
        heic(scene(64, 32), icc_profile=profile)
        if kind == "HEIC"
        else encoded(scene(60, 40), kind, icc_profile=profile)
    )
    outcomes = []
    for _ in range(40):
        spoilt = np.frombuffer(whole, np.uint8).copy()
        spoilt[chance.integers(0, min(len(whole), 2500), 5)] = chance.integers(0, 256, 5)
        try:
            outcomes.append(open_picture(spoilt.tobytes()).image.mode)
        except PictureRefused as refusal:
            outcomes.append(refusal.code)
    assert set(outcomes) <= {"RGB", "damaged", "kind", "pixels", "side", "depth"}
