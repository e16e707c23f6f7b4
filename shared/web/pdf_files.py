"""Printed documents as answers."""

from __future__ import annotations

from django.http import HttpResponse

from shared.printing import Document, print_pdf


def pdf_answer(name: str, template: str, document: Document) -> HttpResponse:
    """A PDF to keep, called `name`.pdf: letters, digits and hyphens."""
    response = HttpResponse(print_pdf(template, document), content_type="application/pdf")
    response.headers["Content-Disposition"] = f'attachment; filename="{name}.pdf"'
    return response
