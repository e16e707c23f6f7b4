"""The words of a standard: cut into clauses, searched for degree, set as safe HTML.

- `splitting`: text as typed or pasted → sections and numbered clauses (`split_standard`).
- `cleaning`: bytes of an uploaded file → text (`decode_text`).
- `degree_words`: "slight", "must", "a serious fault" in a clause, and the severity they suggest.
- `zones`: the part of the dog that a clause speaks of.
- `comparing`: what changed from one edition to the next, clause by clause and word by word.
- `markdown`: clauses and notes as HTML that carries no markup of the writer's.

Plain computation: text in, frozen dataclasses or text out.
"""
