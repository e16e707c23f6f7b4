"""Strict readers of the environment: a value that cannot be read stops the start, naming the variable.

A secret may also come from a file: NAME_FILE holds the path, the file's text is the value.
"""

from __future__ import annotations

import json
import os
from pathlib import Path

import environ
from django.core.exceptions import ImproperlyConfigured

_env = environ.Env()
TRUE = {"1", "true", "yes", "on"}
FALSE = {"0", "false", "no", "off", ""}


def flag(name: str, default: bool = False) -> bool:
    """True or false; any other word is refused rather than guessed at."""
    raw = os.environ.get(name)
    if raw is None:
        return default
    if raw.strip().lower() in TRUE:
        return True
    if raw.strip().lower() in FALSE:
        return False
    raise ImproperlyConfigured(f"{name} is {raw!r}; say true or false.")


def text(name: str, default: str = "") -> str:
    """The value, or the text of the file that NAME_FILE points to."""
    path = os.environ.get(f"{name}_FILE")
    if path:
        if name in os.environ:
            raise ImproperlyConfigured(f"Give {name} or {name}_FILE, not both.")
        try:
            return Path(path).read_text(encoding="utf-8").strip()
        except OSError as error:
            raise ImproperlyConfigured(f"{name}_FILE: {path} cannot be read ({error.strerror}).") from error
    return os.environ.get(name, default)


def refuse(because: str, *names: str) -> None:
    """Stop the start where one of these is set at all, directly or from a file."""
    given = [name for each in names for name in (each, f"{each}_FILE") if name in os.environ]
    if given:
        raise ImproperlyConfigured(f"{because}: unset {', '.join(given)}.")


def words(name: str, default: tuple[str, ...] = ()) -> list[str]:
    """A comma-separated list."""
    raw = os.environ.get(name)
    return list(default) if raw is None else [word.strip() for word in raw.split(",") if word.strip()]


def whole(name: str, default: int, low: int, high: int) -> int:
    """A whole number between low and high, both included."""
    raw = os.environ.get(name)
    if raw is None:
        return default
    try:
        value = int(raw)
    except ValueError as error:
        raise ImproperlyConfigured(f"{name} is {raw!r}; give a whole number.") from error
    if not low <= value <= high:
        raise ImproperlyConfigured(f"{name} is {value}; give a number from {low} to {high}.")
    return value


def table(name: str) -> dict:
    """A JSON object, as {"bucket_name": "standpoint"}; nothing set is an empty one."""
    raw = text(name)
    try:
        value = json.loads(raw) if raw else {}
    except ValueError as error:
        raise ImproperlyConfigured(f"{name} is no JSON: {error}.") from error
    if not isinstance(value, dict):
        raise ImproperlyConfigured(f"{name} is {raw!r}; give a JSON object.")
    return value


def database(default: str) -> dict:
    """The database that DATABASE_URL names."""
    return _env.db_url_config(text("DATABASE_URL", default))


def cache(default: str) -> dict:
    """The cache that CACHE_URL names."""
    return _env.cache_url_config(text("CACHE_URL", default))


def email(default: str) -> dict:
    """Django's mail settings from EMAIL_URL."""
    return _env.email_url_config(text("EMAIL_URL", default))
