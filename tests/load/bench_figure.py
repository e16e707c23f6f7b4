"""How long a drawn exhibit takes and how much memory it needs: `python -m tests.load.bench_figure`.

One thread; each line is measured in a process of its own, so that the peak is that of one drawing.
"""

import os
import resource
import subprocess
import sys
import time

CASES = (("draw", 1600), ("preview", 640))
REPEATS = 3


def measure(kind: str, view: str, width: int) -> str:
    from courses import figure

    make = getattr(figure, kind)
    best = wall = float("inf")
    for _ in range(REPEATS):
        start, clock = time.process_time(), time.perf_counter()
        drawing = make(view, figure.ideal(), width)
        best, wall = min(best, time.process_time() - start), min(wall, time.perf_counter() - clock)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    size = "{} × {}".format(*drawing.image.size)
    return f"{kind:8} {view:8} {size:>12}  {best:6.3f} s of processor  {wall:6.3f} s  peak {peak:5.0f} MB"


def main() -> None:
    from courses.figure import VIEWS

    env = {**os.environ, "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
    for kind, width in CASES:
        for view in VIEWS:
            command = [sys.executable, "-m", "tests.load.bench_figure", kind, view, str(width)]
            subprocess.run(command, env=env, check=True)


if __name__ == "__main__":
    if len(sys.argv) > 1:
        print(measure(sys.argv[1], sys.argv[2], int(sys.argv[3])))
    else:
        main()
