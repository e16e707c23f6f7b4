"""Every type of page, as one table: who opens it, what it is called, its route, and what to look up for it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django.db.models import Count
from django.urls import reverse

from assessments.models import (
    Answer,
    Candidate,
    Item,
    Key,
    KeyPanel,
    MentoringSession,
    Panellist,
    Paper,
    Quiz,
    SecondMarking,
    Sitting,
)
from courses.models import Clause, Course, Edition, Exhibit, Fault, Module, Place, Plate, Section
from shared.accounts.models import Club, Membership

Lookup = Callable[[Club], Any]
UNA, MAGNUS = "una.halcro@example.org", "magnus.flett@example.org"
SIGNED_OUT = ""
EDUCATOR, MENTOR, SECRETARY, TRAINEE = "educator", "mentor", "secretary", "trainee"


@dataclass(frozen=True)
class Page:
    """`role` says who opens it; `lookup` gives what follows the club in the address."""

    role: str
    name: str
    route: str
    lookup: Lookup | None = None
    query: str = ""

    @property
    def outside(self) -> bool:
        """Whether the address is not below a club's own."""
        return self.route.startswith("account") or self.route in ("home", "mfa_index", "invitation")

    def address(self, club: Club) -> str | None:
        """Where it is in this club; None where the club has no such thing."""
        found = self.lookup(club) if self.lookup else ()
        if found is None:
            return None
        last = found if isinstance(found, tuple) else (found,)
        return reverse(self.route, args=last if self.outside else (club.slug, *last)) + self.query


def member(email: str) -> Lookup:
    """A membership by its person's address."""
    return lambda club: Membership.objects.get(club=club, person__email=email).pk


def edition(club: Club, state: str = "released") -> Edition:
    """The edition in force, or one of another state."""
    return Edition.objects.filter(breed__club=club, state=state).latest("issued_on")


def clause(number: str) -> Lookup:
    """A clause of the edition in force."""
    return lambda club: Clause.objects.get(edition=edition(club), number=number).pk


def exhibit(verdict: str) -> Lookup:
    """An exhibit by its verdict: the newest."""
    return lambda club: Exhibit.objects.filter(club=club, verdict=verdict).latest("number").number


def answer(**found: Any) -> Lookup:
    """One of Una's answers, the newest that has all of these."""
    return lambda club: (
        Answer.objects.filter(sitting__trainee__club=club, sitting__trainee__person__email=UNA, **found)
        .filter(sitting__quiz__purpose="practice")
        .order_by("sitting_id", "position")
        .values_list("pk", flat=True)
        .last()
    )


def critique(*, marked: bool) -> Lookup:
    """One of Una's critiques, marked or waiting."""
    return answer(item__kind="write-a-critique", handed_in_at__isnull=False, review__isnull=not marked)


def critiqued(club: Club) -> int:
    """The first item that asks for a critique."""
    return Item.objects.filter(edition=edition(club), kind="write-a-critique").earliest("pk").pk


def waiting(club: Club) -> int | None:
    """The answer that waits for Magnus and has a query."""
    found = Answer.objects.filter(sitting__trainee__club=club, query__settled_at=None, query__isnull=False)
    return found.values_list("pk", flat=True).first()


def second_marking(*, given: bool) -> Lookup:
    """A second marking whose second mark is given, or still asked for."""
    found = SecondMarking.objects.filter(second_at__isnull=not given).order_by("pk")
    return lambda club: found.filter(answer__sitting__trainee__club=club).values_list("pk", flat=True).first()


def planned_session(club: Club) -> int | None:
    """The session of Magnus that is still to come."""
    found = MentoringSession.objects.filter(mentor__club=club, mentor__person__email=MAGNUS, held_on=None)
    return found.values_list("pk", flat=True).first()


def sitting(*, finished: bool) -> Lookup:
    """Una's newest sitting, finished or open."""
    return lambda club: (
        Sitting.objects.filter(
            trainee__club=club, trainee__person__email=UNA, finished_at__isnull=not finished
        )
        .filter(quiz__purpose="practice")
        .latest("begun_at")
        .pk
    )


def paper(club: Club) -> int:
    """The examination paper."""
    return Paper.objects.get(quiz__edition__breed__club=club).pk


def script(club: Club) -> tuple[int, int, int]:
    """The second item of a candidate's answers, by the number."""
    return paper(club), Candidate.objects.filter(paper=paper(club)).latest("number").number, 2


def module(place: int) -> Lookup:
    """A module of the course by its place in it, from 0."""
    return lambda club: Module.objects.filter(course__edition=edition(club)).order_by("position")[place].pk


def place(kind: str, exhibits: int | None = None) -> Lookup:
    """The first place of this kind, of a plate with so many exhibits."""

    def found(club: Club) -> tuple[int, int] | None:
        places = Place.objects.filter(module__course__edition=edition(club), kind=kind)
        if exhibits:
            places = places.annotate(count=Count("plate__plate_exhibits")).filter(count=exhibits)
        return places.order_by("module__position", "position").values_list("module", "pk").first()

    return found


def plate(exhibits: int) -> Lookup:
    """The first plate that has so many exhibits."""
    counted = Plate.objects.annotate(count=Count("plate_exhibits")).filter(count=exhibits)
    return lambda club: counted.filter(edition=edition(club)).earliest("number").pk


def item(version: int | None) -> Lookup:
    """The first item of a quiz that has a key of this version in use, or one in work."""
    keys = Key.objects.filter(item__quiz_items__isnull=False, published_at__isnull=version is None)
    if version:
        keys = keys.filter(version=version)
    return lambda club: keys.filter(item__edition=edition(club)).earliest("item_id").item_id


def asking(kind: str) -> Lookup:
    """The first item of this kind."""
    return lambda club: (
        Item.objects.filter(edition=edition(club), kind=kind)
        .order_by("pk")
        .values_list("pk", flat=True)
        .first()
    )


def keypanel(*, closed: bool, fit: str = "") -> Lookup:
    """The first open panel, or the first closed one that makes its key fit for this."""
    return lambda club: (
        KeyPanel.objects.filter(item__edition=edition(club), closed_at__isnull=not closed, fit=fit)
        .order_by("pk")
        .values_list("pk", flat=True)
        .first()
    )


def seat(*, handed_in: bool) -> Lookup:
    """Magnus's seat on a panel: handed in, or still waited for."""
    return lambda club: (
        Panellist.objects.filter(
            member__club=club, member__person__email=MAGNUS, handed_in_at__isnull=not handed_in
        )
        .order_by("-pk")
        .values_list("pk", flat=True)
        .first()
    )


def first_quiz(club: Club) -> int:
    """The quiz at the head of the course."""
    return Quiz.objects.filter(edition__breed__club=club).earliest("pk").pk


PAGES = [
    Page(SIGNED_OUT, "sign in", "account_login"),
    Page(SIGNED_OUT, "password reset", "account_reset_password"),
    Page(SIGNED_OUT, "sign-in code", "account_request_login_code"),
    # Trainee
    Page(TRAINEE, "the day", "club"),
    Page(TRAINEE, "own account", "account"),
    Page(TRAINEE, "second factor", "mfa_index"),
    Page(TRAINEE, "contents", "study"),
    Page(TRAINEE, "module", "study-module", module(1)),
    Page(TRAINEE, "text", "reading", place("text")),
    Page(TRAINEE, "plate of two", "reading", place("plate", exhibits=2)),
    Page(TRAINEE, "plate of three", "reading", place("plate", exhibits=3)),
    Page(TRAINEE, "place of a quiz", "reading", place("quiz")),
    Page(TRAINEE, "plate laid over", "plate-compare", plate(exhibits=2)),
    Page(TRAINEE, "the standard", "study-standard"),
    Page(TRAINEE, "quizzes", "quizzes"),
    Page(TRAINEE, "quiz", "quiz", first_quiz),
    Page(TRAINEE, "how it is marked", "quiz-rules", first_quiz),
    Page(TRAINEE, "sitting, open", "sitting", sitting(finished=False)),
    Page(TRAINEE, "sitting, finished", "sitting", sitting(finished=True)),
    Page(TRAINEE, "answering", "answer", answer(handed_in_at=None, saved_at__isnull=False)),
    Page(
        TRAINEE,
        "answer marked",
        "answer",
        answer(handed_in_at__isnull=False, review=None, item__kind="mark-the-faults"),
    ),
    Page(
        TRAINEE, "virtues marked", "answer", answer(handed_in_at__isnull=False, item__kind="mark-the-virtues")
    ),
    Page(
        TRAINEE,
        "weighing marked",
        "answer",
        answer(handed_in_at__isnull=False, item__kind="weigh-the-fault"),
    ),
    Page(
        TRAINEE, "points marked", "answer", answer(handed_in_at__isnull=False, item__kind="place-the-points")
    ),
    Page(TRAINEE, "critique marked", "answer", critique(marked=True)),
    Page(TRAINEE, "critique that waits", "answer", critique(marked=False)),
    Page(TRAINEE, "choice marked", "answer", answer(handed_in_at__isnull=False, item__kind="choose")),
    Page(
        TRAINEE,
        "clause marked",
        "answer",
        answer(handed_in_at__isnull=False, item__kind="complete-the-clause"),
    ),
    Page(
        TRAINEE, "pair marked", "answer", answer(handed_in_at__isnull=False, item__kind="which-of-the-pair")
    ),
    Page(TRAINEE, "class marked", "answer", answer(handed_in_at__isnull=False, item__kind="place-a-class")),
    Page(TRAINEE, "answer returned", "answer", answer(query__settled_at__isnull=False)),
    Page(TRAINEE, "paper's result", "paper", paper),
    Page(TRAINEE, "record", "record"),
    Page(TRAINEE, "record, method", "record-method"),
    Page(TRAINEE, "record, file", "record-shape"),
    Page(TRAINEE, "how long things are kept", "keeping"),
    Page(TRAINEE, "asking to be erased", "erasure"),
    Page(TRAINEE, "record, sessions", "record-mentoring"),
    # Educator
    Page(EDUCATOR, "the day", "club"),
    Page(EDUCATOR, "standards", "standard"),
    Page(EDUCATOR, "ladder", "standard-ladder"),
    Page(EDUCATOR, "readings", "breed-readings", lambda club: club.breeds.get().slug),
    Page(EDUCATOR, "new edition", "edition-new", lambda club: club.breeds.get().slug),
    Page(EDUCATOR, "edition", "edition", lambda club: edition(club).pk),
    Page(EDUCATOR, "edition compared", "edition-compare", lambda club: edition(club).pk),
    Page(EDUCATOR, "edition details", "edition-details", lambda club: edition(club).pk),
    Page(EDUCATOR, "edition copied", "edition-copy", lambda club: edition(club).pk),
    Page(
        EDUCATOR, "section", "section-name", lambda club: Section.objects.filter(edition=edition(club))[4].pk
    ),
    Page(EDUCATOR, "clause", "clause", clause("5.1")),
    Page(EDUCATOR, "clause edited", "clause-edit", clause("5.1")),
    Page(EDUCATOR, "faults", "faults"),
    Page(
        EDUCATOR,
        "fault",
        "fault",
        lambda club: Fault.objects.get(breed__club=club, figure="upright_shoulder").pk,
    ),
    Page(EDUCATOR, "new fault", "fault-new", lambda club: club.breeds.get().slug),
    Page(EDUCATOR, "exhibits", "exhibits"),
    Page(EDUCATOR, "new exhibits", "exhibit-new"),
    Page(EDUCATOR, "exhibit, correct", "exhibit", exhibit("correct")),
    Page(EDUCATOR, "exhibit, incorrect", "exhibit", exhibit("incorrect")),
    Page(EDUCATOR, "exhibit's permission", "exhibit-permission", exhibit("correct")),
    Page(EDUCATOR, "drawing", "drawing-new"),
    Page(EDUCATOR, "exhibit's points", "exhibit-points", exhibit("correct")),
    Page(EDUCATOR, "exhibit's measures", "exhibit-measures", exhibit("incorrect")),
    Page(EDUCATOR, "plates", "plates"),
    Page(EDUCATOR, "plate", "plate", plate(exhibits=2)),
    Page(EDUCATOR, "new plate", "plate-new"),
    Page(EDUCATOR, "courses", "courses"),
    Page(EDUCATOR, "course", "course", lambda club: Course.objects.get(edition=edition(club)).pk),
    Page(EDUCATOR, "module", "module", module(1)),
    Page(EDUCATOR, "new course", "course-new"),
    Page(EDUCATOR, "module looked at", "module-preview", module(1)),
    Page(EDUCATOR, "place", "place", lambda club: place("text")(club)[1]),
    Page(EDUCATOR, "plate looked at", "plate-preview", plate(exhibits=3)),
    Page(EDUCATOR, "plate laid over", "plate-compare", plate(exhibits=2)),
    Page(EDUCATOR, "quizzes", "quizzes"),
    Page(EDUCATOR, "new quiz", "quiz-new"),
    Page(EDUCATOR, "quiz", "quiz", first_quiz),
    Page(EDUCATOR, "quiz changed", "quiz-edit", first_quiz),
    Page(EDUCATOR, "items to add", "quiz-add", first_quiz),
    Page(EDUCATOR, "item bank", "items"),
    Page(EDUCATOR, "key of a critique", "key", critiqued),
    Page(EDUCATOR, "rules changed", "quiz-rules-edit", first_quiz),
    Page(EDUCATOR, "item", "item", item(2)),
    Page(EDUCATOR, "key in work", "key", item(None)),
    Page(EDUCATOR, "key revised", "key-version", lambda club: (item(2)(club), 2)),
    Page(EDUCATOR, "ask a panel", "item-panel", item(1)),
    Page(EDUCATOR, "key panels", "keypanels"),
    Page(EDUCATOR, "panel at work", "keypanel", keypanel(closed=False)),
    Page(EDUCATOR, "panel that agrees", "keypanel", keypanel(closed=True, fit="examination")),
    Page(EDUCATOR, "panel at odds", "keypanel", keypanel(closed=True, fit="discussion")),
    Page(EDUCATOR, "papers", "papers"),
    Page(EDUCATOR, "regulations", "regulations"),
    Page(EDUCATOR, "new paper", "paper-new"),
    Page(EDUCATOR, "paper", "paper-edit", paper),
    Page(EDUCATOR, "paper's plan", "paper-plan", paper),
    Page(EDUCATOR, "paper's candidates", "paper-candidates", paper),
    Page(EDUCATOR, "paper's results", "paper-results", paper),
    Page(EDUCATOR, "answer by number", "paper-script", script),
    Page(EDUCATOR, "evidence", "evidence"),
    Page(EDUCATOR, "evidence of a quiz", "evidence-quiz", first_quiz),
    Page(EDUCATOR, "evidence of an item", "evidence-item", lambda club: (first_quiz(club), item(1)(club))),
    Page(EDUCATOR, "evidence by clause", "evidence-clauses"),
    Page(EDUCATOR, "evidence of mentors", "evidence-mentors"),
    Page(EDUCATOR, "behind a mentor's figures", "evidence-mentor", member(MAGNUS)),
    Page(EDUCATOR, "mix of pictures", "evidence-mix"),
    Page(EDUCATOR, "evidence, method", "evidence-method"),
    Page(EDUCATOR, "what to ask", "item-new"),
    Page(EDUCATOR, "choice asked", "item-asking", asking("choose")),
    Page(EDUCATOR, "words left out", "item-asking", asking("complete-the-clause")),
    Page(EDUCATOR, "choice as trainees see it", "item-preview", asking("choose")),
    Page(EDUCATOR, "clause as trainees see it", "item-preview", asking("complete-the-clause")),
    Page(EDUCATOR, "pair as trainees see it", "item-preview", asking("which-of-the-pair")),
    Page(EDUCATOR, "class as trainees see it", "item-preview", asking("place-a-class")),
    Page(EDUCATOR, "key of a pair", "key", asking("which-of-the-pair")),
    Page(EDUCATOR, "key of a class", "key", asking("place-a-class")),
    Page(EDUCATOR, "mentoring", "mentoring"),
    Page(EDUCATOR, "marks adjusted", "mentoring-marks"),
    Page(EDUCATOR, "mentoring rules", "mentoring-rules"),
    Page(EDUCATOR, "two marks compared", "second", second_marking(given=True)),
    Page(EDUCATOR, "panels", "panels"),
    # Mentor
    Page(MENTOR, "the day", "club"),
    Page(MENTOR, "reviews", "reviews"),
    Page(MENTOR, "review, queried", "review", waiting),
    Page(MENTOR, "critique to mark", "review", critique(marked=False)),
    Page(MENTOR, "critique reviewed", "review", critique(marked=True)),
    Page(MENTOR, "review, adjusted", "review", answer(query__settled_at__isnull=False)),
    Page(MENTOR, "second marking", "second", second_marking(given=False)),
    Page(MENTOR, "sessions", "sessions"),
    Page(MENTOR, "session planned", "session", planned_session),
    Page(MENTOR, "trainee's sessions", "trainee-mentoring", member(UNA)),
    Page(MENTOR, "sign-off", "trainee-sign-off", member(UNA)),
    Page(MENTOR, "trainees", "trainees"),
    Page(MENTOR, "trainee", "trainee", member(UNA)),
    Page(MENTOR, "trainee's eye", "trainee-eye", member(UNA)),
    Page(MENTOR, "marking for a key", "marking", seat(handed_in=False)),
    Page(MENTOR, "marking handed in", "marking", seat(handed_in=True)),
    Page(MENTOR, "agreement, method", "keypanel-method"),
    # Secretary
    Page(SECRETARY, "the day", "club"),
    Page(SECRETARY, "members", "members"),
    Page(SECRETARY, "member", "member", member(UNA)),
    Page(SECRETARY, "member's mentors", "mentorship", member(UNA)),
    Page(SECRETARY, "member erased", "member-erase", member(UNA)),
    Page(SECRETARY, "members who left", "members-left"),
    Page(SECRETARY, "how long things are kept", "keeping"),
    Page(SECRETARY, "keeping set", "keeping-set"),
    Page(SECRETARY, "invitations", "invitations"),
    Page(SECRETARY, "new invitation", "invitation-new"),
    Page(SECRETARY, "exhibits", "exhibits"),
]
