"""Any pixels that Pillow decodes, to 8-bit sRGB at a given size."""

from __future__ import annotations

import io

import numpy as np
from PIL import Image, ImageCms

from shared.pictures.limits import PAPER

_SRGB = ImageCms.createProfile("sRGB")
# A strip-wise reduction leaves at least so many pixels to choose from for each that is kept.
_ROOM = 1.8
_STRIP = 256
_SIXTEEN_BIT = {"I", "I;16", "I;16L", "I;16B", "I;16N"}


def to_srgb(source: Image.Image, size: tuple[int, int]) -> Image.Image:
    """Decoded pixels as RGB of `size`, laid on paper where transparent; no information beside the pixels.

    A colour profile that cannot be read or does not fit counts as sRGB. Raises ValueError for pixels
    of more than 16 bits, which are not tones of a photograph.
    """
    profile = source.info.get("icc_profile")
    image = _plain_mode(source)
    image = _resized(image, size)
    alpha = image.getchannel("A") if image.mode in {"LA", "RGBA"} else None
    if alpha is not None:
        image = image.convert("L" if image.mode == "LA" else "RGB")
    rgb = _through_profile(image, profile)
    if alpha is not None:
        rgb = Image.composite(rgb, Image.new("RGB", rgb.size, PAPER), alpha)
    rgb.info = {}
    return rgb


def _plain_mode(source: Image.Image) -> Image.Image:
    """One of L, LA, RGB, RGBA, CMYK, LAB: what can be resized and carries 8 bits a channel."""
    mode = source.mode
    if mode in _SIXTEEN_BIT:
        return _eight_bits(source)
    if mode == "F":
        raise ValueError("floating-point pixels")
    if mode == "1":
        return source.convert("L")
    if mode in {"LA", "RGBA"}:
        return source
    if source.has_transparency_data:
        return source.convert("LA" if mode in {"L", "La"} else "RGBA")
    return source if mode in {"L", "RGB", "CMYK", "LAB"} else source.convert("RGB")


def _eight_bits(source: Image.Image) -> Image.Image:
    """65,535 → 255, rounded to the nearest; Pillow's own conversion clips or cuts."""
    tones = np.asarray(source).astype(np.int64)
    if tones.min(initial=0) < 0 or tones.max(initial=0) > 65_535:
        raise ValueError("more than 16 bits")
    return Image.fromarray(((tones + 128) // 257).astype(np.uint8))


def _resized(image: Image.Image, size: tuple[int, int]) -> Image.Image:
    """Strip by strip if far too large and transparent, for resizing copies all that is transparent."""
    if image.size == size:
        return image
    factor = int(image.width / size[0] / _ROOM)
    if factor < 2 or image.mode not in {"LA", "RGBA"}:
        return image.resize(size, Image.Resampling.LANCZOS, reducing_gap=3.0)
    width, height = image.size
    reduced = Image.new(image.mode, (-(-width // factor), -(-height // factor)))
    for top in range(0, height, _STRIP * factor):
        strip = image.crop((0, top, width, min(height, top + _STRIP * factor)))
        reduced.paste(strip.reduce(factor), (0, top // factor))
    return reduced.resize(size, Image.Resampling.LANCZOS, box=(0, 0, width / factor, height / factor))


def _through_profile(image: Image.Image, profile: bytes | None) -> Image.Image:
    if image.mode == "LAB":
        own = ImageCms.createProfile("LAB")
        return _converted(image, ImageCms.ImageCmsProfile(own))
    if profile:
        try:
            opened = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            if not ImageCms.getProfileDescription(opened).startswith("sRGB"):
                return _converted(image, opened)
        except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
            pass  # a bad profile, or one for other channels: read the numbers as sRGB
    return image.convert("RGB")


def _converted(image: Image.Image, profile: ImageCms.ImageCmsProfile) -> Image.Image:
    converted = ImageCms.profileToProfile(
        image, profile, _SRGB, ImageCms.Intent.PERCEPTUAL, "RGB", flags=ImageCms.Flags.BLACKPOINTCOMPENSATION
    )
    assert converted is not None  # only an in-place conversion returns nothing
    return converted
