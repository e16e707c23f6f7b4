"""Printed documents: a template of the house and plain data in, the bytes of a PDF out.

A template is a Typst file that lies in the app whose document it is (`assessments/reports/quiz.typ`) and begins
with the common look, `look.typ` beside this file. It is compiled as it stands: what is said in it comes as JSON and
is set as text, so that no word of anybody's can become markup. Fonts are those that the compiler carries, the
same on every computer; what none of them can show is set as a rectangle. The result is tagged for screen
readers and fit to be kept (PDF/UA-1, ISO 14289-1, and PDF/A-2a, ISO 19005-2); the same data give the same bytes.

    pdf = print_pdf("assessments/reports/quiz.typ", Document(title="…", language="en-gb", made_at=when, data={…}))
"""

from shared.printing.characters import UNSHOWN, printable
from shared.printing.pdf import Document, print_pdf

__all__ = ["UNSHOWN", "Document", "print_pdf", "printable"]
