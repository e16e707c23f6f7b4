"""What a PDF says, read with a library that is not the one that wrote it."""

from __future__ import annotations

import io
from typing import Any

from pypdf import PdfReader


def opened(pdf: bytes) -> PdfReader:
    """The file, its structure checked as it is read."""
    return PdfReader(io.BytesIO(pdf), strict=True)


def text_of(pdf: bytes) -> str:
    """All its words in order, on one line; places where a long word may be broken are left out."""
    pages = [page.extract_text() for page in opened(pdf).pages]
    return " ".join(" ".join(pages).replace("\u200b", "").split())


def said_by(response: Any) -> str:
    """What an answer of the site says, be it a page, a PDF or a file that is sent piece by piece."""
    if response.streaming:
        if not hasattr(response, "whole"):
            response.whole = b"".join(response.streaming_content)
        return str(response.whole.decode(errors="replace"))
    if response.headers.get("Content-Type") == "application/pdf":
        return text_of(response.content)
    return str(response.content.decode(errors="replace"))


def fonts_of(pdf: bytes) -> dict[str, bool]:
    """Each font by its name without the subset's letters, and whether it is embedded."""
    found: dict[str, bool] = {}
    for page in opened(pdf).pages:
        for font in page["/Resources"].get("/Font", {}).values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            files = {"/FontFile", "/FontFile2", "/FontFile3"} & set(inner["/FontDescriptor"])
            found[str(inner["/BaseFont"]).lstrip("/").partition("+")[2]] = bool(files)
    return found


def headings_and_tables(pdf: bytes) -> list[str]:
    """The kinds of the elements in the structure that a screen reader walks."""
    found: list[str] = []

    def walk(node: object) -> None:
        node = node.get_object() if hasattr(node, "get_object") else node
        if isinstance(node, list):
            for each in node:
                walk(each)
        elif isinstance(node, dict):
            if "/S" in node:
                found.append(str(node["/S"]).lstrip("/"))
            walk(node.get("/K", []))

    walk(opened(pdf).trailer["/Root"]["/StructTreeRoot"].get("/K", []))
    return found
