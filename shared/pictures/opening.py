"""From an uploaded file to plain pixels: upright, 8-bit, sRGB, no wider than a projector needs.

Nothing of the file but its pixels goes further: no EXIF, place, comment, thumbnail or colour profile.
"""

from __future__ import annotations

import io
import threading
import warnings
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, BinaryIO

import pi_heif
from PIL import Image, ImageOps

from shared.pictures.colour import to_srgb
from shared.pictures.limits import LARGEST_BYTES, LARGEST_PIXELS, LONGEST_SIDE, WIDEST

if TYPE_CHECKING:
    from collections.abc import Iterator

pi_heif.register_heif_opener()

REASONS = {
    "empty": "is empty",
    "bytes": f"is larger than {LARGEST_BYTES // 1_000_000} MB",
    "kind": "is not a picture in JPEG, PNG, WebP, AVIF, TIFF or HEIC",
    "damaged": "is cut off or damaged",
    "pixels": f"has more than {LARGEST_PIXELS // 1_000_000} million pixels",
    "side": f"is longer than {LONGEST_SIDE:,} pixels on one side",
    "depth": "holds numbers that are not tones of a photograph (more than 16 bits)",
}
_FORMATS = {"JPEG": "JPEG", "MPO": "JPEG", "PNG": "PNG", "WEBP": "WebP", "AVIF": "AVIF", "TIFF": "TIFF",
            "HEIF": "HEIC"}  # fmt: skip
_OPENERS = ("JPEG", "PNG", "WEBP", "AVIF", "TIFF", "HEIF")
_ORIENTATION = 0x0112
_ON_ITS_SIDE = (5, 6, 7, 8)

# One picture at a time in a process: memory stays bounded, and the warning filter is nobody else's.
_one_at_a_time = threading.Lock()


class PictureRefused(ValueError):
    """Why a file was not let in. `code` is a key of `REASONS`, `reason` its words, `str()` a sentence."""

    def __init__(self, code: str, name: str = "") -> None:
        self.code = code
        self.reason = REASONS[code]
        self.name = name
        super().__init__(f"{name or 'The file'} {self.reason}.")


@dataclass(frozen=True, slots=True)
class OpenedPicture:
    """Upright 8-bit sRGB pixels, at most `WIDEST` wide; `width` × `height` is what came in, upright."""

    image: Image.Image
    width: int
    height: int
    format: str
    name: str = ""


def open_picture(file: bytes | BinaryIO, *, name: str = "") -> OpenedPicture:
    """Open bytes or a binary file (an upload will do) as a picture, or raise `PictureRefused`.

    The content decides, never the name or its extension; `name` only serves the message. The first
    frame of an animation counts. Transparent parts show the paper of the page (`limits.PAPER`).
    """
    content = _read(file)
    if not content:
        raise PictureRefused("empty", name)
    if len(content) > LARGEST_BYTES:
        raise PictureRefused("bytes", name)
    with _one_at_a_time, _only_bombs_warn():
        source = _identify(content, name)
        _refuse_oversize(source.size, name)
        return _decode(source, name)


def _read(file: bytes | BinaryIO) -> bytes:
    if isinstance(file, bytes):
        return file
    file.seek(0)
    return file.read(LARGEST_BYTES + 1)


@contextmanager
def _only_bombs_warn() -> Iterator[None]:
    """Pillow warns of odd metadata, which is thrown away here, and of pixel bombs, which are refused."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        yield


def _identify(content: bytes, name: str) -> Image.Image:
    """Read the header alone."""
    try:
        return Image.open(io.BytesIO(content), formats=_OPENERS)
    except (Image.DecompressionBombWarning, Image.DecompressionBombError):
        raise PictureRefused("pixels", name) from None
    # Decoders fail in every way there is (struct.error, zlib.error, IndexError …) when fed on rubbish.
    except Exception as error:
        raise PictureRefused("damaged" if _begins_like_a_picture(content) else "kind", name) from error


def _begins_like_a_picture(content: bytes) -> bool:
    brand = content[4:8] == b"ftyp" and content[8:12] in {b"avif", b"avis", b"heic", b"heix", b"mif1"}
    webp = content[:4] == b"RIFF" and content[8:12] == b"WEBP"
    return brand or webp or content.startswith((b"\xff\xd8\xff", b"\x89PNG\r\n", b"II*\0", b"MM\0*"))


def _refuse_oversize(size: tuple[int, int], name: str) -> None:
    if size[0] * size[1] > LARGEST_PIXELS:
        raise PictureRefused("pixels", name)
    if max(size) > LONGEST_SIDE:
        raise PictureRefused("side", name)


def _decode(source: Image.Image, name: str) -> OpenedPicture:
    try:
        size = _draft(source)
        source.load()
        orientation = _orientation(source)
    except Exception as error:
        raise PictureRefused("damaged", name) from error
    _refuse_oversize(source.size, name)
    upright_size = size[::-1] if orientation in _ON_ITS_SIDE else size
    target = _working_size(upright_size)
    try:
        image = to_srgb(source, target[::-1] if orientation in _ON_ITS_SIDE else target)
    except ValueError as error:
        raise PictureRefused("depth", name) from error
    return OpenedPicture(_upright(image, orientation), *upright_size, _FORMATS[source.format or ""], name)


def _draft(source: Image.Image) -> tuple[int, int]:
    """Let the JPEG decoder halve what is far too large; returns the size that the picture has.

    Never below `WIDEST`, so that the finishing resize still has pixels to choose from.
    """
    size = source.size
    if source.format in {"JPEG", "MPO"}:
        on_its_side = _orientation(source) in _ON_ITS_SIDE
        target = _working_size(size[::-1] if on_its_side else size)
        source.draft(None, target[::-1] if on_its_side else target)
    return size


def _orientation(source: Image.Image) -> int:
    try:
        orientation = source.getexif().get(_ORIENTATION, 1)
    except Exception:  # broken EXIF says nothing about which way is up
        return 1
    return orientation if orientation in range(1, 9) else 1


def _working_size(size: tuple[int, int]) -> tuple[int, int]:
    width, height = size
    if width <= WIDEST:
        return size
    return WIDEST, max(1, round(height * WIDEST / width))


def _upright(image: Image.Image, orientation: int) -> Image.Image:
    image.getexif()[_ORIENTATION] = orientation
    upright = ImageOps.exif_transpose(image)
    return Image.frombytes("RGB", upright.size, upright.tobytes()) if upright.info else upright
