"""Why something is not done, in words that may be shown."""

from __future__ import annotations


class Refused(ValueError):
    """An act that the state of things does not allow."""


class NotReady(ValueError):
    """Something cannot be released yet; `missing` says in words what it needs."""

    def __init__(self, missing: list[str]) -> None:
        super().__init__(" ".join(missing))
        self.missing = missing
