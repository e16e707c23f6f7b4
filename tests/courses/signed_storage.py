"""Object storage as a club might have it: files elsewhere, links that it signs for as long as it is asked to."""

from __future__ import annotations

from urllib.parse import urlencode

from django.core.files.storage import FileSystemStorage
from django.core.signing import Signer

HOUSE = "https://pictures.club.example"


class SignedStorage(FileSystemStorage):
    """Signs path and life with the site's own key."""

    def url(self, name: str, expire: int = 3600) -> str:
        query = urlencode({"life": expire, "signature": Signer().signature(f"{name}:{expire}")})
        return f"{HOUSE}/{name}?{query}"


class SilentStorage(FileSystemStorage):
    """Signs for a life of its own."""

    def url(self, name: str) -> str:
        return f"{HOUSE}/{name}?signature={Signer().signature(name)}"


class OpenStorage(FileSystemStorage):
    """Signs nothing: whoever has the address has the picture."""

    def url(self, name: str) -> str:
        return f"{HOUSE}/{name}"
