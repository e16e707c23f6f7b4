"""Pictures for the tests, made and not stored."""

import io
import struct
import zlib

import numpy as np
from PIL import Image

ENCODED = ("JPEG", "PNG", "WEBP", "AVIF", "TIFF")


def scene(width: int, height: int, seed: int = 0) -> Image.Image:
    """Something like a photograph: soft shapes of many sizes, no two corners alike."""
    chance = np.random.default_rng(seed)
    layers = np.zeros((height, width, 3))
    for cells in (3, 6, 12, 24):
        grid = Image.fromarray(chance.integers(0, 256, (cells, cells, 3), dtype=np.uint8))
        layers += np.asarray(grid.resize((width, height), Image.Resampling.BICUBIC), float) / cells
    return Image.fromarray((255 * (layers - layers.min()) / np.ptp(layers)).astype(np.uint8))


def encoded(image: Image.Image, kind: str = "JPEG", **options: object) -> bytes:
    stream = io.BytesIO()
    image.save(stream, kind, **options)
    return stream.getvalue()


def png(width: int, height: int, *chunks: tuple[bytes, bytes]) -> bytes:
    """A PNG that claims a size and holds whatever chunks it is given."""
    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = b"".join(_chunk(kind, data) for kind, data in ((b"IHDR", header), *chunks, (b"IEND", b"")))
    return b"\x89PNG\r\n\x1a\n" + body


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def srgb_to_linear(values: np.ndarray) -> np.ndarray:
    """IEC 61966-2-1, 0–1."""
    return np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)


def linear_to_srgb(values: np.ndarray) -> np.ndarray:
    return np.where(
        values <= 0.0031308, values * 12.92, 1.055 * np.clip(values, 0, None) ** (1 / 2.4) - 0.055
    )


def rgb_to_xyz(*primaries: tuple[float, float], white: tuple[float, float] = (0.3127, 0.3290)) -> np.ndarray:
    """The matrix that follows from chromaticities (SMPTE RP 177)."""
    columns = np.array([[x / y, 1, (1 - x - y) / y] for x, y in primaries]).T
    x, y = white
    return columns * np.linalg.solve(columns, [x / y, 1, (1 - x - y) / y])


SRGB_TO_XYZ = rgb_to_xyz((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))  # ITU-R BT.709
P3_TO_XYZ = rgb_to_xyz((0.680, 0.320), (0.265, 0.690), (0.150, 0.060))  # SMPTE EG 432-1 with D65


def display_p3_profile() -> bytes:
    """A version 2 matrix profile (ICC.1:2001-04): wide primaries, the sRGB tone curve."""
    curve = np.round(65535 * srgb_to_linear(np.linspace(0, 1, 1024))).astype(">u2")
    tone = b"curv\0\0\0\0" + struct.pack(">I", len(curve)) + curve.tobytes()
    columns = (_bradford_to_d50() @ P3_TO_XYZ).T
    colorants = {tag: _xyz(*column) for tag, column in zip((b"rXYZ", b"gXYZ", b"bXYZ"), columns, strict=True)}
    return _profile(b"RGB ", {**colorants, b"rTRC": tone, b"gTRC": tone, b"bTRC": tone})


def linear_grey_profile() -> bytes:
    return _profile(b"GRAY", {b"kTRC": b"curv\0\0\0\0" + struct.pack(">I", 0)})


def _bradford_to_d50() -> np.ndarray:
    """From D65 to the D50 of profiles; Bradford matrix as printed in ICC.1:2010, annex E."""
    cone = np.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])
    d65, d50 = np.array([0.95047, 1, 1.08883]), np.array([0.9642, 1, 0.8249])
    return np.linalg.inv(cone) @ np.diag((cone @ d50) / (cone @ d65)) @ cone


def _xyz(x: float, y: float, z: float) -> bytes:
    return b"XYZ \0\0\0\0" + b"".join(struct.pack(">i", round(65536 * value)) for value in (x, y, z))


def _profile(space: bytes, tags: dict[bytes, bytes]) -> bytes:
    text = b"made for a test\0"
    tags = {
        b"desc": b"desc\0\0\0\0" + struct.pack(">I", len(text)) + text + bytes(78),
        b"wtpt": _xyz(0.9642, 1, 0.8249),
        **tags,
    }
    offset, table, body = 132 + 12 * len(tags), b"", b""
    for name, data in tags.items():
        table += name + struct.pack(">II", offset + len(body), len(data))
        body += data + bytes(-len(data) % 4)
    size = offset + len(body)
    header = struct.pack(">I", size) + bytes(4) + struct.pack(">I", 0x02100000) + b"mntr" + space + b"XYZ "
    header += struct.pack(">6H", 2020, 1, 1, 0, 0, 0) + b"acsp" + bytes(28) + _xyz(0.9642, 1, 0.8249)[8:]
    return header + bytes(128 - len(header)) + struct.pack(">I", len(tags)) + table + body
