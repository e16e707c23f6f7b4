"""A photograph of 24 megapixels from intake to all renditions, beside libvips doing the same.

Run with `python -m tests.load.bench_pictures`; libvips is asked through pyvips (`pip install
"pyvips[binary]"`) and left out if that is not installed. Each run is a process of its own, taken in
turns; prints the best time, the peak memory of the whole process and the ratio. It asserts that both
sides make files of the same sizes, and likewise pictures. Also prints the peak of the largest pictures
that are let in.
"""

import importlib.util
import io
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from time import perf_counter

import numpy as np
from PIL import Image

from shared.pictures.likeness import distance, fingerprint
from shared.pictures.limits import WIDTHS
from shared.pictures.opening import open_picture
from shared.pictures.renditions import FORMATS, renditions
from tests.shared.pictures.making import encoded, scene

SIZE = (6000, 4000)
TURNS = 5
BAR, MEMORY_BAR = 2.0, 500

Made = Iterator[tuple[int, int, str, bytes]]


def ours(content: bytes) -> Made:
    for made in renditions(open_picture(content).image):
        yield made.width, made.height, made.format, made.data


def libvips(content: bytes) -> Made:
    """The same widths, formats, qualities and efforts, metadata dropped, colours brought to sRGB."""
    import pyvips

    options = {
        "avif": (".avif", {"Q": 68, "effort": 3, "compression": "av1"}),
        "webp": (".webp", {"Q": 82, "effort": 3}),
        "jpeg": (".jpg", {"Q": 84, "optimize_coding": True, "interlace": True}),
    }
    largest = pyvips.Image.thumbnail_buffer(
        content, WIDTHS[-1], height=100_000, size="down", export_profile="srgb", intent="perceptual"
    ).copy_memory()
    for width in reversed(WIDTHS):
        sized = largest
        if width != WIDTHS[-1]:
            sized = largest.thumbnail_image(width, height=100_000, size="down").copy_memory()
        for kind in FORMATS:
            suffix, settings = options[kind]
            yield sized.width, sized.height, kind, sized.write_to_buffer(suffix, keep="none", **settings)


def intake(content: bytes) -> Made:
    """Opening alone."""
    open_picture(content)
    yield from ()


SIDES: dict[str, Callable[[bytes], Made]] = {"ours": ours, "libvips": libvips, "intake": intake}


def run(side: str, file: Path) -> None:
    """In a child: seconds, peak megabytes, then one line for each file made."""
    content = file.read_bytes()
    start = perf_counter()
    lines = []
    for width, height, kind, data in SIDES[side](content):
        likeness = fingerprint(Image.open(io.BytesIO(data))) if width == WIDTHS[0] else "-"
        lines.append(f"{width} {height} {kind} {len(data)} {likeness}")
    print(perf_counter() - start, peak_megabytes())
    print("\n".join(lines))


def peak_megabytes() -> float:
    """Of this process alone; `ru_maxrss` would count its parent's memory too."""
    status = Path("/proc/self/status").read_text()
    return int(status.split("VmHWM:")[1].split()[0]) / 1000


def child(side: str, file: Path) -> tuple[float, float, list[list[str]]]:
    command = [sys.executable, "-m", "tests.load.bench_pictures", side, str(file)]
    figures, *lines = subprocess.run(command, check=True, capture_output=True, text=True).stdout.splitlines()
    seconds, megabytes = figures.split()
    return float(seconds), float(megabytes), [line.split() for line in lines if line]


def photograph() -> bytes:
    """Grain and hair over soft shapes, as a camera would save it."""
    chance = np.random.default_rng(24)
    soft = np.asarray(scene(*SIZE), np.int16)
    grain = chance.normal(0, 7, (SIZE[1], SIZE[0], 1)).astype(np.int16)
    return encoded(Image.fromarray(np.clip(soft + grain, 0, 255).astype(np.uint8)), quality=92)


def check_same_work(mine: list[list[str]], theirs: list[list[str]]) -> None:
    assert [line[:3] for line in mine] == [line[:3] for line in theirs]
    for one, other in zip(mine, theirs, strict=True):
        if one[4] != "-":
            assert distance(one[4], other[4]) < 8, (one, other)


def largest() -> Iterator[tuple[str, bytes]]:
    """About 60 million pixels of the kinds that need most room."""
    soft = scene(9400, 6380)
    yield "RGBA PNG", encoded(soft.convert("RGBA"), "PNG", compress_level=1)
    yield "CMYK TIFF", encoded(soft.convert("CMYK"), "TIFF", compression="tiff_adobe_deflate")
    yield "JPEG", encoded(soft, "JPEG", quality=90)
    yield "WebP", encoded(soft, "WEBP", method=0)


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "photograph"
        file.write_bytes(photograph())
        sides = ["ours"] + ["libvips"] * bool(importlib.util.find_spec("pyvips"))
        turns = [{side: child(side, file) for side in sides} for _ in range(TURNS)]
        best = {side: min(turn[side][0] for turn in turns) for side in sides}
        peak = {side: max(turn[side][1] for turn in turns) for side in sides}
        print(
            f"24 megapixels, JPEG of {file.stat().st_size / 1e6:.1f} MB, to {len(turns[0]['ours'][2])} files"
        )
        for side in sides:
            kilobytes = sum(int(line[3]) for line in turns[0][side][2]) / 1000
            print(f"  {side:8} {best[side]:6.2f} s   peak {peak[side]:5.0f} MB   made {kilobytes:,.0f} kB")
        if "libvips" in sides:
            check_same_work(turns[0]["ours"][2], turns[0]["libvips"][2])
            print(f"  ratio    {best['ours'] / best['libvips']:6.2f}     bar {BAR}")
        print(f"  bar for memory {MEMORY_BAR} MB")
        for kind, content in largest():
            file.write_bytes(content)
            seconds, megabytes, _ = child("intake", file)
            print(f"60 megapixels, {kind}: opened in {seconds:.2f} s, peak {megabytes:.0f} MB")


if __name__ == "__main__":
    if len(sys.argv) == 3:
        run(sys.argv[1], Path(sys.argv[2]))
    else:
        main()
