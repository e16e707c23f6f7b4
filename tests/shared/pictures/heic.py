"""The smallest HEIC there is: raw samples in an HEVC intra picture (ISO/IEC 23008-2), in its container.

Phones send HEIC, but what can write it compresses with software under another licence. HEVC may carry
raw samples ("pcm"), so nothing needs to be compressed here. Each block of 32 × 32 is a slice of its own:
the arithmetic coder starts afresh in each, so its part is a constant.
"""

import struct
from collections.abc import Iterator

import numpy as np
from PIL import Image

BLOCK = 32
# "This block is not split" (one symbol of probability ½), then "raw samples follow", then flushed, 9.3.4.
BEFORE_SAMPLES = "100001101"
# "The slice ends here"; the last bit doubles as the stop bit of the unit.
AFTER_SAMPLES = "111111101"
PARAMETERS, PICTURE = {"video": 32, "sequence": 33, "picture": 34}, 19


def heic(
    image: Image.Image,
    *,
    quarter_turns: int = 0,
    exif: bytes = b"",
    icc_profile: bytes = b"",
    claims: tuple = (),
) -> bytes:
    """`image` has sides of whole blocks. `quarter_turns` (anticlockwise) ask the reader to turn it.

    `claims` is a false size for the container to state.
    """
    sets = {kind: _unit(PARAMETERS[kind], text) for kind, text in _parameter_sets(*image.size).items()}
    coded = b"".join(struct.pack(">I", len(unit)) + unit for unit in _slices(image))
    properties = [
        _box(b"hvcC", _configuration(sets)),
        _box(b"ispe", bytes(4) + struct.pack(">2I", *(claims or image.size))),
        # samples as in ITU-R BT.601, full range
        _box(b"colr", b"nclx" + struct.pack(">3HB", 1, 13, 6, 0x80)),
        _box(b"irot", bytes([quarter_turns % 4])),
    ]
    if icc_profile:
        properties.append(_box(b"colr", b"prof" + icc_profile))
    return _container(properties, coded, struct.pack(">I", 6) + b"Exif\0\0" + exif if exif else b"")


def _ue(*numbers: int) -> str:
    """Exponential Golomb codes, 9.2."""
    return "".join(f"{number + 1:b}".zfill(2 * (number + 1).bit_length() - 1) for number in numbers)


def _parameter_sets(width: int, height: int) -> dict[str, str]:
    """7.3.2.1 to 7.3.2.3, after the names of the syntax there."""
    main_profile = f"{1:08b}{0x60000000:032b}{0x9:04b}{0:044b}{93:08b}"
    one_picture = "1" + _ue(0, 0, 0)
    video = f"0000110000000001{0xFFFF:016b}" + main_profile + one_picture + "000000" + _ue(0) + "00"
    sequence = (
        "00000001" + main_profile + _ue(0, 1, width, height) + "0" + _ue(0, 0, 0) + one_picture
        # blocks of 8 to 32, transforms of 4 to 32
        + _ue(0, 2, 0, 3, 0, 0) + "000"
        # raw samples of 8 bits in blocks of 8 to 32
        + "1" + "01110111" + _ue(0, 2) + "1"
        + _ue(0) + "00000"
    )  # fmt: skip
    picture = (
        _ue(0, 0) + "0000000" + _ue(0, 0, 0) + "000" + _ue(0, 0) + "0000000" + "101" + "00" + _ue(0) + "00"
    )
    return {"video": video, "sequence": sequence, "picture": picture}


def _slices(image: Image.Image) -> Iterator[bytes]:
    """7.3.6: one for each block, row by row."""
    luma, blue, red = (np.asarray(band) for band in image.convert("YCbCr").split())
    across, down = image.width // BLOCK, image.height // BLOCK
    address_bits = (across * down - 1).bit_length()
    for number in range(across * down):
        y, x = divmod(number, across)
        place = "00" + _ue(0) + f"{number:0{address_bits}b}" if number else "10" + _ue(0)
        header = _filled(place + _ue(2, 0) + "1") + _filled(BEFORE_SAMPLES)
        rows, columns = slice(y * BLOCK, (y + 1) * BLOCK), slice(x * BLOCK, (x + 1) * BLOCK)
        samples = luma[rows, columns].tobytes()
        samples += b"".join(_halved(band[rows, columns]).tobytes() for band in (blue, red))
        yield _wrapped(PICTURE, _as_bytes(header) + samples + _as_bytes(_filled(AFTER_SAMPLES)))


def _halved(band: np.ndarray) -> np.ndarray:
    return band.reshape(BLOCK // 2, 2, BLOCK // 2, 2).mean(axis=(1, 3)).round().astype(np.uint8)


def _filled(text: str) -> str:
    return text + "0" * (-len(text) % 8)


def _as_bytes(text: str) -> bytes:
    return int(text, 2).to_bytes(len(text) // 8)


def _unit(kind: int, text: str) -> bytes:
    return _wrapped(kind, _as_bytes(_filled(text + "1")))


def _wrapped(kind: int, payload: bytes) -> bytes:
    """7.3.1: the header, and a 3 wherever the payload looks like a start code."""
    wrapped, zeros = bytearray([kind << 1, 1]), 0
    for byte in payload:
        if zeros >= 2 and byte <= 3:
            wrapped.append(3)
            zeros = 0
        wrapped.append(byte)
        zeros = zeros + 1 if byte == 0 else 0
    return bytes(wrapped)


def _configuration(sets: dict[str, bytes]) -> bytes:
    """ISO/IEC 14496-15, 8.3.3.1."""
    head = bytes([1, 1]) + struct.pack(">I", 0x60000000) + b"\x90" + bytes(5) + bytes([93])
    head += b"\xf0\x00\xfc\xfd\xf8\xf8\x00\x00\x0f" + bytes([len(sets)])
    return head + b"".join(
        bytes([0x80 | PARAMETERS[kind]]) + struct.pack(">2H", 1, len(unit)) + unit
        for kind, unit in sets.items()
    )


def _box(kind: bytes, payload: bytes) -> bytes:
    return struct.pack(">I", 8 + len(payload)) + kind + payload


def _container(properties: list[bytes], coded: bytes, exif: bytes) -> bytes:
    """ISO/IEC 23008-12: one picture with its properties, and perhaps notes on it."""
    items = [(1, b"hvc1", coded), *([(2, b"Exif", exif)] if exif else [])]
    kinds = b"".join(
        _box(b"infe", b"\x02\0\0\0" + struct.pack(">2H", n, 0) + kind + b"\0") for n, kind, _ in items
    )
    associations = struct.pack(">IHB", 1, 1, len(properties)) + bytes(
        0x80 | (n + 1) for n in range(len(properties))
    )
    start = _box(b"ftyp", b"heic" + bytes(4) + b"mif1heic")

    def described(offset: int) -> bytes:
        places = b""
        for number, _, data in items:
            places += struct.pack(">3H2I", number, 0, 1, offset, len(data))
            offset += len(data)
        return _box(
            b"meta",
            bytes(4)
            + _box(b"hdlr", bytes(8) + b"pict" + bytes(13))
            + _box(b"pitm", bytes(4) + struct.pack(">H", 1))
            + _box(b"iloc", bytes(4) + b"\x44\0" + struct.pack(">H", len(items)) + places)
            + _box(b"iinf", bytes(4) + struct.pack(">H", len(items)) + kinds)
            + (_box(b"iref", bytes(4) + _box(b"cdsc", struct.pack(">3H", 2, 1, 1))) if exif else b"")
            + _box(b"iprp", _box(b"ipco", b"".join(properties)) + _box(b"ipma", bytes(4) + associations)),
        )

    body = _box(b"mdat", coded + exif)
    return start + described(len(start) + len(described(0)) + 8) + body
