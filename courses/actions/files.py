"""Files that are kept all together or not at all."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from django.core.files.base import File
from django.core.files.storage import default_storage
from django.db import transaction


@contextmanager
def all_or_none() -> Iterator[Callable[[str, File], str]]:
    """Gives `keep(path, content)`, which stores a file; whatever goes wrong later removes them all."""
    begun: list[str] = []

    def keep(path: str, content: File) -> str:
        begun.append(path)
        begun[-1] = default_storage.save(path, content)
        return begun[-1]

    try:
        yield keep
    except BaseException:
        for path in begun:
            default_storage.delete(path)
        raise


def remove_after_commit(paths: list[str]) -> None:
    """Remove files once the rows that named them are gone for good."""
    transaction.on_commit(lambda: [default_storage.delete(path) for path in paths])
