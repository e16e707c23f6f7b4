"""The sizes and formats in which a picture is served. Pixels only: readers take them as sRGB."""

from __future__ import annotations

import hashlib
import io
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from PIL import Image

from shared.pictures.limits import WIDTHS

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

# Best first: a page offers them in this order and the reader takes the first it knows.
FORMATS = ("avif", "webp", "jpeg")
SUFFIXES = {"avif": "avif", "webp": "webp", "jpeg": "jpg"}
MEDIA_TYPES = {"avif": "image/avif", "webp": "image/webp", "jpeg": "image/jpeg"}

_SETTINGS: dict[str, dict[str, Any]] = {
    "avif": {"quality": 68, "speed": 6},
    "webp": {"quality": 82, "method": 3},
    "jpeg": {"quality": 84, "optimize": True, "progressive": True},
}


@dataclass(frozen=True, slots=True)
class Rendition:
    """One file to be stored. `name` comes from the pixels alone and tells nothing of what they show."""

    name: str
    width: int
    height: int
    format: str
    data: bytes


def renditions(
    image: Image.Image, *, widths: Sequence[int] = WIDTHS, formats: Sequence[str] = FORMATS
) -> Iterator[Rendition]:
    """Yield each width, widest first, in each format, one at a time; never wider than `image` (RGB) is."""
    digest = picture_digest(image)
    for width in rendition_widths(image.width, widths):
        height = max(1, round(image.height * width / image.width))
        sized = image
        if width != image.width:
            sized = image.resize((width, height), Image.Resampling.LANCZOS, reducing_gap=3.0)
        for kind in formats:
            yield Rendition(rendition_name(digest, width, kind), width, height, kind, _encode(sized, kind))


def rendition_widths(width: int, widths: Sequence[int] = WIDTHS) -> list[int]:
    """The widths that are made from a picture `width` pixels wide: its own stands in for all above it."""
    return sorted({min(width, each) for each in widths}, reverse=True)


def rendition_name(digest: str, width: int, kind: str) -> str:
    return f"{digest}-{width}.{SUFFIXES[kind]}"


def picture_digest(image: Image.Image) -> str:
    """32 hexadecimal digits from the pixels and the settings: same pixels, same names."""
    hashed = hashlib.blake2b(
        repr((image.mode, image.size, sorted(_SETTINGS.items()))).encode(), digest_size=16
    )
    hashed.update(image.tobytes())
    return hashed.hexdigest()


def _encode(image: Image.Image, kind: str) -> bytes:
    stream = io.BytesIO()
    bare = image.copy()
    bare.info = {}
    bare.save(stream, kind.upper(), **_SETTINGS[kind])
    return stream.getvalue()
