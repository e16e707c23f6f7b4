"""Draw the demo's pictures and keep them: `python -m media_demo.draw [--all]`.

Without `--all` only what is missing is drawn; with it everything, as when the drawing itself has changed.
Pictures that the scenario no longer asks for are removed, and the index is written anew.
"""

from __future__ import annotations

import argparse
import os
import sys
import time
from concurrent.futures import ProcessPoolExecutor

from media_demo.figures import Figure
from media_demo.loading import read_scenario
from media_demo.pictures import FOLDER, draw_and_keep, path_of, write_index


def main() -> None:
    """Draw with one process for each core, one line for each ten pictures."""
    parser = argparse.ArgumentParser(description="Draw the demo's pictures.")
    parser.add_argument("--all", action="store_true", help="Draw those that are kept already, too.")
    parser.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    given = parser.parse_args()
    figures = read_scenario().figures()
    wanted = figures if given.all else [figure for figure in figures if not path_of(figure).exists()]
    _draw(wanted, given.processes)
    _remove_others(figures)
    write_index(figures)
    size = sum(path_of(figure).stat().st_size for figure in figures)
    _say(f"{len(figures)} pictures kept in {size / 1e6:.1f} MB, {len(wanted)} of them drawn now.")


def _draw(figures: list[Figure], processes: int) -> None:
    begun = time.monotonic()
    with ProcessPoolExecutor(processes) as pool:
        for done, _size in enumerate(pool.map(draw_and_keep, figures), 1):
            if done % 10 == 0:
                _say(f"{done} of {len(figures)} drawn, {time.monotonic() - begun:.0f} s")


def _remove_others(figures: list[Figure]) -> None:
    keep = {path_of(figure) for figure in figures}
    for path in set(FOLDER.glob("*.webp")) - keep:
        path.unlink()


def _say(line: str) -> None:
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
