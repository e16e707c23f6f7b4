"""What re-marking costs beside its two unavoidable parts, and how much memory it takes.

    python -m tests.load.bench_scoring [answers]

The same answers are (1) marked by `score_many` and (2) only measured and assigned: for each key all
distances of all pins to all regions in one vectorised Shapely call, and for each answer one call of SciPy's
linear_sum_assignment on its slice of the location credits. The bar is 3 times (2). Each is run several times
in turn; the least processor time counts, so that what else the machine does weighs little.
"""

import sys
import tracemalloc
from time import process_time

import numpy as np
import shapely
from scipy.optimize import linear_sum_assignment

from assessments.scoring import DEFAULT_LADDER, DEFAULT_RULES, FaultKey, FaultMark, KeyEntry, score_many

FAULTS = [f"fault {number}" for number in range(12)]
EXHIBITS = 20
ROUNDS = 5
BAR = 3.0


def make_key(rng, entries):
    """A key of faults spread over the dog, their regions polygons of 4 to 12 corners, some overlapping."""
    return FaultKey([make_entry(rng, fault) for fault in rng.choice(FAULTS, entries, replace=False).tolist()])


def make_entry(rng, fault):
    centre = rng.uniform((0.15, 0.15), (0.85, 0.6))
    turns = np.sort(rng.uniform(0, 2 * np.pi, rng.integers(4, 13)))
    radii = rng.uniform(0.04, 0.08, len(turns))[:, None]
    corners = centre + radii * np.column_stack([np.cos(turns), np.sin(turns)])
    return KeyEntry(corners.tolist(), fault, f"{fault[6:]}.1", "body", int(rng.integers(0, 4)))


def make_answer(rng, key):
    """Up to 8 marks: three of four aim at an entry and mostly name it, the rest lie anywhere."""
    marks = []
    for _ in range(rng.integers(0, 9)):
        if rng.random() < 0.75:
            entry = key.entries[rng.integers(len(key.entries))]
            centre = entry.shape.centroid
            x, y = centre.x + rng.normal(0, 0.04), centre.y + rng.normal(0, 0.04)
            fault = entry.fault if rng.random() < 0.7 else FAULTS[rng.integers(len(FAULTS))]
        else:
            (x, y), fault = rng.uniform((0, 0), (1, 0.7)), FAULTS[rng.integers(len(FAULTS))]
        level = None if rng.random() < 0.1 else int(rng.integers(0, 4))
        marks.append(FaultMark(float(x), float(y), fault, level))
    return marks, not marks and rng.random() < 0.8


def make_papers(count):
    """Keys, each with its share of the answers."""
    rng = np.random.default_rng(2026)
    keys = [make_key(rng, int(rng.integers(3, 7))) for _ in range(EXHIBITS)]
    return [(key, [make_answer(rng, key) for _ in range(count // EXHIBITS)]) for key in keys]


def alone(papers):
    for key, answers in papers:
        shapes = np.array([entry.shape for entry in key.entries])
        pins = np.array([(mark.x, mark.y) for marks, _ in answers for mark in marks])
        apart = shapely.distance(shapely.points(pins)[:, np.newaxis], shapes[np.newaxis, :])
        credit = np.maximum(0, 1 - apart / DEFAULT_RULES.tolerance)
        start = 0
        for marks, _ in answers:
            end = start + len(marks)
            linear_sum_assignment(credit[start:end], maximize=True)
            start = end


def marked(papers):
    for key, answers in papers:
        for _ in score_many(key, answers, DEFAULT_LADDER, DEFAULT_RULES):
            pass


def marked_with_lines(papers):
    for key, answers in papers:
        for score in score_many(key, answers, DEFAULT_LADDER, DEFAULT_RULES):
            _ = score.lines


def seconds(job, papers):
    start = process_time()
    job(papers)
    return process_time() - start


def peak_memory(papers):
    """The most memory that marking held at a time, in MB, the answers themselves not counted."""
    tracemalloc.start()
    marked(papers)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return peak / 1e6


def main(count):
    papers = make_papers(count)
    marks = sum(len(given) for _, answers in papers for given, _ in answers)
    sizes = sorted({len(key.entries) for key, _ in papers})
    print(f"{count} answers with {marks} marks to {EXHIBITS} keys of {sizes} entries")
    jobs = {
        "distances and assignment alone": alone,
        "score_many": marked,
        "score_many, all lines read": marked_with_lines,
    }
    times = [[seconds(job, papers) for job in jobs.values()] for _ in range(ROUNDS)]
    best = [min(column) for column in zip(*times, strict=True)]
    for name, time in zip(jobs, best, strict=True):
        each = 1e6 * time / count
        print(f"{name:32} {time:6.2f} s  {each:6.1f} µs an answer  ratio {time / best[0]:.2f}")
    key, answers = papers[0]
    for some in (answers[: len(answers) // 4], answers):
        print(f"peak memory for {len(some)} answers to one key: {peak_memory([(key, some)]):.1f} MB")
    print(f"bar {BAR:g}: {'met' if best[1] <= BAR * best[0] else 'not met'}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 100_000)
