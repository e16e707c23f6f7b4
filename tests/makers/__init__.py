"""Makers of the things that tests need, as small as they can be and still be true.

Each takes what it belongs to and keyword overrides, and returns the row. Anything that has an action is made
by it, so that tests meet what people meet. The makers of examination papers are in `papers` alone.
"""

from .assessors import make_panel, make_second_marking, make_told
from .courses import make_module, make_plate
from .critiques import given, make_critique, make_written
from .exhibits import make_exhibit, make_photograph, make_placement, make_published, permit
from .items import BACK, SHOULDER, entry, make_draft_item, make_item_of, make_keyed_item
from .key_panels import make_key_panel, make_marking, marked
from .members import make_invitation, make_member, make_mentor, make_trainee
from .mentoring import make_mentorship, make_session, make_sign_off
from .quizzes import make_cut_study, make_open_quiz, make_quiz_asking
from .sittings import make_handed_in, make_sittings, pin, said
from .standard import (
    DRAFT,
    make_back,
    make_breed,
    make_clause,
    make_draft,
    make_edition,
    make_fault,
    make_scale,
    make_shoulder_and_back,
)

__all__ = [
    "BACK",
    "DRAFT",
    "SHOULDER",
    "entry",
    "given",
    "make_back",
    "make_breed",
    "make_clause",
    "make_critique",
    "make_cut_study",
    "make_draft",
    "make_draft_item",
    "make_edition",
    "make_exhibit",
    "make_fault",
    "make_handed_in",
    "make_invitation",
    "make_item_of",
    "make_key_panel",
    "make_keyed_item",
    "make_marking",
    "make_member",
    "make_mentor",
    "make_mentorship",
    "make_module",
    "make_open_quiz",
    "make_panel",
    "make_photograph",
    "make_placement",
    "make_plate",
    "make_published",
    "make_quiz_asking",
    "make_scale",
    "make_second_marking",
    "make_session",
    "make_shoulder_and_back",
    "make_sign_off",
    "make_sittings",
    "make_told",
    "make_trainee",
    "make_written",
    "marked",
    "permit",
    "pin",
    "said",
]
