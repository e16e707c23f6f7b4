"""Exhibits: each figure's picture, made ready in processes of their own, then kept and published."""

from __future__ import annotations

import multiprocessing
import signal
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager

from courses.actions.drawing import keep_prepared
from courses.actions.exhibit import publish_exhibit
from courses.drawn import Prepared
from courses.figure import PRESETS
from courses.models import Exhibit
from courses.models.choices import View
from media_demo.figures import Figure
from media_demo.people import People
from media_demo.pictures import prepare
from shared.accounts.roles import Role

Ready = Iterator[tuple[Figure, Prepared]]


@contextmanager
def made_ready(figures: Sequence[Figure], processes: int) -> Iterator[Ready]:
    """Gives the figures in their order, each with what its exhibit brings along.

    They are worked on from now on, while the caller does something else. 0 processes: each as it is asked for.
    """
    if not processes:
        yield ((figure, prepare(figure)) for figure in figures)
        return
    # Started anew and not forked: this process holds a database connection.
    anew = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(processes, anew, signal.signal, (signal.SIGINT, signal.SIG_IGN)) as pool:
        try:
            yield zip(figures, pool.map(prepare, figures), strict=True)
        except BaseException:
            pool.shutdown(cancel_futures=True)
            raise


def hang(people: People, figure: Figure, prepared: Prepared, *, caption: str, telling: bool) -> Exhibit:
    """Keep a figure as a published exhibit. `telling` says in words what it shows; a quiz must not."""
    exhibit = keep_prepared(
        club=people.club,
        breed=people.breed,
        prepared=prepared,
        made_by=people.first(Role.EDUCATOR).person,
        caption=caption,
        description=_description(people, figure) if telling else "",
    )
    publish_exhibit(exhibit=exhibit)
    return exhibit


def plate_caption(figure: Figure) -> str:
    """What an educator's list says of an exhibit made for plates."""
    return "; ".join(PRESETS[key].name for key, _degree in figure.faults) or "As the standard asks"


def _description(people: People, figure: Figure) -> str:
    begins = f"A {people.breed.name}, drawn, {View(figure.view).label}"
    if not figure.faults:
        return f"{begins}, as the standard asks."
    return f"{begins}. It shows: {plate_caption(figure).lower()}."
