"""What the running head needs on every page of a club."""

from __future__ import annotations

from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse
from django.utils.translation import gettext_lazy as _

from shared.accounts.roles import Role

# Role, word, route, and the first parts of the route names on which the word is the current one.
WORDS = [
    (Role.TRAINEE, _("Study"), "study", {"study", "reading"}),
    (
        Role.TRAINEE,
        _("Quizzes"),
        "quizzes",
        {"quizzes", "quiz", "items", "item", "key", "sitting", "answer", "paper"},
    ),
    (Role.TRAINEE, _("Record"), "record", {"record"}),
    (
        Role.EDUCATOR,
        _("Standard"),
        "standard",
        {"standard", "breed", "edition", "section", "clause", "faults", "fault"},
    ),
    (Role.EDUCATOR, _("Exhibits"), "exhibits", {"exhibits", "exhibit", "drawing"}),
    (Role.EDUCATOR, _("Courses"), "courses", {"courses", "course", "module", "place", "plates", "plate"}),
    (
        Role.EDUCATOR,
        _("Quizzes"),
        "quizzes",
        {"quizzes", "quiz", "items", "item", "key", "keypanels", "keypanel", "marking", "sitting", "answer"},
    ),
    (Role.EDUCATOR, _("Papers"), "papers", {"papers", "paper", "regulations"}),
    (Role.EDUCATOR, _("Evidence"), "evidence", {"evidence"}),
    (Role.EDUCATOR, _("Mentoring"), "mentoring", {"mentoring", "panels"}),
    (Role.MENTOR, _("Reviews"), "reviews", {"reviews", "review", "second", "panel"}),
    (Role.MENTOR, _("Trainees"), "trainees", {"trainees", "trainee", "sessions", "session", "signoff"}),
    (Role.SECRETARY, _("Exhibits"), "exhibits", {"exhibits", "exhibit"}),
    (Role.SECRETARY, _("Papers"), "papers", {"papers", "paper", "regulations"}),
    (
        Role.SECRETARY,
        _("Members"),
        "members",
        {"members", "member", "invitations", "invitation", "mentorship", "keeping"},
    ),
]


def running_head(request: HttpRequest) -> dict[str, object]:
    """The words of the person's roles, in order and each once, with the current one marked."""
    membership = getattr(request, "membership", None)
    if membership is None:
        return {}
    match = request.resolver_match
    part = (match.url_name or "").split("-")[0] if match else ""
    words: dict[str, dict[str, object]] = {}
    for role, word, route, parts in WORDS:
        if role in membership.roles and route not in words:
            try:
                url = reverse(route, args=[membership.club.slug])
            except NoReverseMatch:
                continue
            words[route] = {"word": word, "url": url, "current": part in parts}
    return {"club": membership.club, "membership": membership, "head_words": list(words.values())}
