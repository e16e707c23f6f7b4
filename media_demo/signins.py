"""Sign-ins of the demo: new passwords by chance at each fresh start, kept for its owner's eyes beside the data.

The file is also the sign by which the demo knows its own folder: what it did not make, it does not throw away.
"""

from __future__ import annotations

import json
import os
import secrets
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from media_demo.loading import Member

CONSONANTS, VOWELS = "bdfgklmnprstv", "aeiou"
PARTS, SYLLABLES = 4, 2  # 48 bits, and easily typed


@dataclass(frozen=True)
class SignIn:
    """One line of what the demo prints."""

    roles: str
    name: str
    email: str
    password: str


def new_password() -> str:
    """Such as "kobu-tami-reso-lanu"."""
    return "-".join("".join(_syllable() for _ in range(SYLLABLES)) for _ in range(PARTS))


def new_signins(members: Iterable[Member]) -> list[SignIn]:
    """One for each of the people whom the scenario calls by name."""
    return [SignIn(", ".join(member.roles), member.name, member.email, new_password()) for member in members]


def write_signins(path: Path, signins: Iterable[SignIn], *, built: bool) -> None:
    """Keep them where only the owner of the files can read; `built` says that the club stands."""
    content = {"built": built, "people": [vars(signin) for signin in signins]}
    path.unlink(missing_ok=True)
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="utf-8") as file:
        json.dump(content, file, indent=1)


def read_signins(path: Path) -> list[SignIn] | None:
    """What is kept of a demo that was built to its end; None where there is none."""
    try:
        kept: Mapping[str, object] = json.loads(path.read_text(encoding="utf-8"))
    except (FileNotFoundError, ValueError):
        return None
    return [SignIn(**row) for row in kept["people"]] if kept["built"] else None


def _syllable() -> str:
    return secrets.choice(CONSONANTS) + secrets.choice(VOWELS)
