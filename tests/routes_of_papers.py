"""What the addresses of examination papers name; see `tests/test_routes.py`."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from assessments.actions.paper_sittings import begin_typing
from assessments.models import Candidate, Paper
from tests import makers
from tests.makers.papers import (
    make_bank,
    make_candidate,
    make_paper_sitting,
    make_regulations,
    make_set_paper,
)


def a_paper(scene: Any) -> Paper:
    """A set paper of the scene, which its trainee has begun."""
    edition = scene.thing("edition")
    make_regulations(scene.club, made_by=scene.educator.person)
    make_bank(edition, scene.educator)
    paper = make_set_paper(edition, scene.educator)
    candidate = make_candidate(paper, scene.trainee, scene.educator)
    make_paper_sitting(candidate)
    return paper


def someone(scene: Any, name: str) -> Candidate:
    """A further candidate."""
    trainee = makers.make_trainee(scene.club, f"{name} {scene.club.memberships.count()} {scene.club.slug}")
    return make_candidate(scene.thing("paper"), trainee, scene.educator)


def waiting(scene: Any) -> int:
    """The number of one who has not begun."""
    return someone(scene, "Waiting").number


def typed(scene: Any) -> int:
    """The number of one whose answers are typed in."""
    candidate = someone(scene, "Typed")
    for steward in (scene.educator, scene.secretary):
        if not scene.thing("paper").candidates.filter(member=steward).exists():
            begin_typing(candidate=candidate, steward=steward)
    return candidate.number


def handed_in(scene: Any) -> int:
    """The number of one who has handed in."""
    candidate = someone(scene, "Handed in")
    make_paper_sitting(candidate, right_ones=1)
    return candidate.number


def drawn(scene: Any) -> Any:
    """An item of the paper."""
    return scene.thing("paper").quiz.items.first()


def first(scene: Any) -> int:
    """The first place of a paper."""
    return 1


OF_PAPERS: dict[str, Callable[[Any], Any]] = {
    "paper-swap.item": drawn,
    "paper-settle.number": handed_in,
    "paper-candidate-time.number": waiting,
    "paper-candidate-withdraw.number": waiting,
    "paper-typing-begin.number": waiting,
    "paper-typing.number": typed,
    "paper-typing-overview.number": typed,
    "paper-typing-item.number": typed,
    "paper-typing-save.number": typed,
    "paper-typing-hand-in.number": typed,
    "paper-typing-item.place": first,
    "paper-typing-save.place": first,
    "paper-script.number": handed_in,
    "paper-script.place": first,
    "paper-script-mark.number": handed_in,
    "paper-script-mark.place": first,
    "paper-item.place": first,
    "paper-save.place": first,
}
