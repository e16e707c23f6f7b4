"""Makers of the things that tests need, as small as they can be and still be true.

Each takes what it belongs to and keyword overrides, and returns the row. Anything that has an action is made
by it, so that tests meet what people meet.
"""

from __future__ import annotations

import datetime
import io
import uuid
from typing import Any

from django.utils import timezone

from assessments.actions.cut import ask_for_cut
from assessments.actions.items import make_item
from assessments.actions.key_panels import ask_panel, hand_in_marking, save_marking
from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.actions.marking import remark
from assessments.actions.panels import Reason, decide, tell_trainee
from assessments.actions.quizzes import add_item, make_quiz, open_quiz
from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.models import (
    Answer,
    AssessorPanel,
    CutStudy,
    Item,
    KeyPanel,
    MentoringSession,
    Mentorship,
    Panellist,
    Quiz,
    SecondMarking,
    SignOff,
    Sitting,
)
from courses.actions.course import (
    add_module,
    add_plate,
    add_text,
    begin_course,
    publish_course,
    publish_module,
    word_place,
)
from courses.actions.exhibit import publish_exhibit, take_in_exhibit
from courses.actions.permission import record_permission
from courses.actions.placement import finish_points, save_points
from courses.actions.plate import begin_plate, publish_plate, set_clause, set_exhibit, word_plate
from courses.models import (
    Breed,
    Clause,
    Edition,
    Exhibit,
    Fault,
    Module,
    PicturePermission,
    Placement,
    Plate,
    Section,
    SeverityScale,
)
from shared.accounts.actions.invitations import invite
from shared.accounts.models import Club, Invitation, Membership, Person
from shared.accounts.roles import Role
from tests.shared.pictures.making import encoded, scene

SHOULDER = [[0.30, 0.40], [0.40, 0.40], [0.40, 0.55], [0.30, 0.55]]
BACK = [[0.60, 0.30], [0.72, 0.30], [0.72, 0.38], [0.60, 0.38]]
DRAFT = {
    "5 Forequarters": [
        "The blade slopes to some 35° from plumb. A steep blade is a serious fault.",
        "The arm is as long as the blade.",
        "Elbows lie close; turned out, they are a slight fault.",
    ],
    "6 Topline": ["Withers stand clear of the back.", "A roached back disqualifies."],
}


def make_breed(club: Club, **fields: Any) -> Breed:
    return Breed.objects.get_or_create(club=club, **({"name": "Skerry Drover", "slug": "drover"} | fields))[0]


def make_edition(club: Club, **fields: Any) -> Edition:
    given = {
        "title": "Edition of 2026",
        "issuing_body": "Skerry Drover Club",
        "issued_on": datetime.date(2026, 1, 1),
        "state": Edition.State.RELEASED,
    }
    return Edition.objects.create(breed=fields.pop("breed", None) or make_breed(club), **(given | fields))


def make_clause(edition: Edition, number: str = "5.1", **fields: Any) -> Clause:
    part, _, last = number.partition(".")
    section = (
        fields.pop("section", None)
        or Section.objects.get_or_create(
            edition=edition, number=part, defaults={"position": int(part), "title": f"Part {part}"}
        )[0]
    )
    given = {"text": "The blade slopes. A steep blade is a serious fault.", "position": int(last or 1)}
    return Clause.objects.create(edition=edition, section=section, number=number, **(given | fields))


def make_draft(club: Club, parts: dict[str, list[str]] | None = None, **fields: Any) -> Edition:
    """A draft with sections "number title" and the wordings of their clauses, numbered in order."""
    edition = make_edition(club, **({"state": Edition.State.DRAFT} | fields))
    for position, (heading, texts) in enumerate((DRAFT if parts is None else parts).items(), 1):
        number, _, title = heading.partition(" ")
        section = Section.objects.create(edition=edition, position=position, number=number, title=title)
        for place, text in enumerate(texts, 1):
            make_clause(edition, f"{number}.{place}", section=section, text=text, position=place)
    return edition


def make_scale(club: Club, **fields: Any) -> SeverityScale:
    """A ladder of three levels that begins tomorrow."""
    given = {
        "labels": ["Fault", "Severe fault", "Disqualifying fault"],
        "weights": [1, 3, 6],
        "effective_from": timezone.localdate() + datetime.timedelta(days=1),
    }
    return SeverityScale.objects.create(club=club, **(given | fields))


def make_fault(edition: Edition, name: str = "Upright shoulder", number: str = "5.1", **fields: Any) -> Fault:
    clause = edition.clauses.filter(number=number).first() or make_clause(edition, number)
    given = {"zone": "forequarters", "level": 2, "clause": clause}
    return Fault.objects.create(breed=edition.breed, name=name, **(given | fields))


def make_exhibit(club: Club, by: Membership, **fields: Any) -> Exhibit:
    """A published drawn exhibit of 1600 by 1200, without files."""
    last = Exhibit.objects.filter(club=club).order_by("-number").values_list("number", flat=True).first()
    given = {
        "breed": fields.pop("breed", None) or make_breed(club),
        "number": (last or 0) + 1,
        "kind": Exhibit.Kind.DRAWN,
        "state": "published",
        "width": 1600,
        "height": 1200,
        "made_by": by.person,
    }
    return Exhibit.objects.create(club=club, **(given | fields))


def entry(fault: Fault, regions: list[Any], **fields: Any) -> dict[str, Any]:
    """Fields of a complete key entry."""
    given = {
        "fault": fault,
        "clause": fault.clause,
        "zone": fault.zone,
        "level": fault.level,
        "regions": regions,
    }
    return given | fields


def make_keyed_item(edition: Edition, by: Membership, entries: list[dict[str, Any]] | None = None) -> Item:
    """An item in use: upright shoulder, Serious, and roached back, Moderate, unless entries are given."""
    exhibit = make_exhibit(edition.breed.club, by, breed=edition.breed)
    item = make_item(edition=edition, exhibit=exhibit, by=by.person)
    if entries is None:
        faults = {fault.name: fault for fault in edition.breed.faults.all()}
        shoulder = faults.get("Upright shoulder") or make_fault(edition)
        back = faults.get("Roached back") or make_fault(
            edition, "Roached back", "6.2", zone="topline", level=1
        )
        entries = [entry(shoulder, [SHOULDER]), entry(back, [BACK])]
    key = start_draft(item=item, by=by.person)
    save_draft(key=key, sound=not entries, note="", entries=entries, by=by.person)
    publish_key(item=item, by=by.person)
    item.refresh_from_db()
    return item


def marked(fault: Fault, *regions: Any, **fields: Any) -> dict[str, Any]:
    """One fault as a panellist's page sends it."""
    given = {"fault": fault.pk, "clause": fault.clause_id, "level": fault.level, "regions": list(regions)}
    return given | {"whole_dog": not regions} | fields


def make_key_panel(item: Item, by: Membership, *members: Membership, **fields: Any) -> KeyPanel:
    """An open panel of these members; of whoever asks if none is named."""
    return ask_panel(item=item, members=members or [by], by=by, **fields)


def make_marking(panel: KeyPanel, member: Membership, *entries: dict[str, Any]) -> Panellist:
    """What a panellist has marked and handed in; sound if there are no entries."""
    seat = panel.panellists.get(member=member)
    content = {"sound": not entries, "note": "", "entries": list(entries)}
    save_marking(panellist=seat, sent=content, seen=seat.revision, identity=uuid.uuid4())
    return hand_in_marking(panellist=seat)


def make_item_of(
    edition: Edition,
    by: Membership,
    kind: str,
    *,
    exhibit: Exhibit | None = None,
    asking: dict[str, Any] | None = None,
    entries: list[dict[str, Any]] | None = None,
    content: dict[str, Any] | None = None,
) -> Item:
    """An item of a kind in use, with a key of these entries or this content; as it was proposed without any."""
    shown = exhibit or make_exhibit(edition.breed.club, by, breed=edition.breed)
    item = make_item(edition=edition, exhibit=shown, kind=kind, asking=asking, by=by.person)
    if entries is not None or content is not None:
        key = start_draft(item=item, by=by.person)
        save_draft(key=key, sound=False, note="", entries=entries, content=content, by=by.person)
    publish_key(item=item, by=by.person)
    return Item.objects.get(pk=item.pk)


def make_quiz_asking(edition: Edition, by: Membership, *items: Item) -> Quiz:
    """An open quiz of these items."""
    quiz = make_quiz(edition=edition, title="In the hand", by=by.person)
    for item in items:
        add_item(quiz=quiz, item=item)
    open_quiz(quiz=quiz)
    quiz.refresh_from_db()
    return quiz


def make_open_quiz(edition: Edition, by: Membership, items: int = 1, **fields: Any) -> Quiz:
    """An open quiz of so many keyed items."""
    quiz = make_quiz(edition=edition, title=fields.pop("title", "Forequarters in profile"), by=by.person)
    for _ in range(items):
        add_item(quiz=quiz, item=make_keyed_item(edition, by))
    open_quiz(quiz=quiz)
    quiz.refresh_from_db()
    return quiz


def make_handed_in(answer: Answer) -> Answer:
    """The answer handed in, with nothing found; once."""
    answer.refresh_from_db()
    if answer.handed_in_at:
        return answer
    save_answer(answer=answer, sent=said(nothing_found=True), seen=answer.revision, identity=uuid.uuid4())
    answer.refresh_from_db()
    hand_in(answer=answer, seen=answer.revision)
    answer.refresh_from_db()
    return answer


def make_member(club: Club, name: str, **roles: bool) -> Membership:
    """A further member of the club."""
    person = Person.objects.create_user(f"{name.lower().replace(' ', '.')}@club.example", name=name)
    return Membership.objects.create(club=club, person=person, **roles)


def make_trainee(club: Club, name: str) -> Membership:
    return make_member(club, name, trainee=True)


def make_mentor(club: Club, name: str) -> Membership:
    return make_member(club, name, mentor=True)


def make_mentorship(mentor: Membership, trainee: Membership) -> Mentorship:
    return Mentorship.objects.create(mentor=mentor, trainee=trainee)


def make_cut_study(quiz: Quiz, by: Membership, *members: Membership) -> CutStudy:
    """An open round of estimates for the quiz's pass mark."""
    return ask_for_cut(quiz=quiz, members=list(members), by=by.person)


def make_second_marking(answer: Answer, second: Membership, by: Membership) -> SecondMarking:
    """Asked for, neither mark given."""
    return SecondMarking.objects.create(answer=answer, second=second, asked_by=by, why="Near the mark.")


def make_panel(sitting: Sitting, assessor: Membership, by: Membership, of: int = 1) -> AssessorPanel:
    """Asked about a finished sitting, with one seat taken."""
    Sitting.objects.filter(pk=sitting.pk, finished_at=None).update(finished_at=timezone.now())
    made = AssessorPanel.objects.create(sitting=sitting, asked_by=by, of=of, needed=of)
    made.seats.create(assessor=assessor)
    return made


def make_told(panel: AssessorPanel, by: Membership) -> AssessorPanel:
    """A panel whose one assessor said pass, and whose trainee was told."""
    reasons = [Reason("Seen at once.", answer=panel.sitting.answers.first())]
    decide(seat=panel.seats.get(), passes=True, reasons=reasons)
    return tell_trainee(panel=panel, words=reasons, by=by)


def make_session(mentor: Membership, *trainees: Membership, **fields: Any) -> MentoringSession:
    """Held yesterday for 50 minutes and ended ready, unless said otherwise; `held_on=None` is planned."""
    day = timezone.localdate() - datetime.timedelta(days=1)
    end = {"ending": fields.pop("ending", "ready"), "reason": fields.pop("reason", "Saw it unprompted.")}
    given = {"subject": "Lay of shoulder", "planned_for": day, "held_on": day} | fields
    held = given["held_on"] is not None
    made = MentoringSession.objects.create(mentor=mentor, minutes=50 if held else None, **given)
    for trainee in trainees:
        made.trainees.create(trainee=trainee, **(end if held else {}))
    return made


def make_sign_off(trainee: Membership, mentor: Membership, quiz: Quiz) -> SignOff:
    """Of a quiz, today."""
    on = timezone.localdate()
    return SignOff.objects.create(trainee=trainee, mentor=mentor, quiz=quiz, on=on, words="Seen it all.")


def pin(
    x: float | None, y: float | None, fault: Fault | None = None, level: int | None = None
) -> dict[str, Any]:
    """One mark as a browser sends it."""
    return {"x": x, "y": y, "fault": fault.pk if fault else None, "level": level, "note": ""}


def said(*marks: dict[str, Any], nothing_found: bool = False) -> dict[str, Any]:
    """An answer's content as a browser sends it."""
    return {"marks": list(marks), "nothing_found": nothing_found}


def make_photograph(club: Club, by: Membership, seed: int = 0, **fields: Any) -> Exhibit:
    """A draft photograph of 300 by 200 with its files, taken in as an upload is."""
    file = io.BytesIO(encoded(scene(300, 200, seed)))
    breed = fields.pop("breed", None) or make_breed(club)
    made = take_in_exhibit(club=club, breed=breed, file=file, name="scene.jpg", made_by=by.person).exhibit
    Exhibit.objects.filter(pk=made.pk).update(**fields)
    made.refresh_from_db()
    return made


def permit(exhibit: Exhibit, by: Membership, **fields: Any) -> PicturePermission:
    """The owner's word for teaching, from the first of January 2026 without end."""
    given = {"given_by": "Erlend Scollay", "how": "form", "ends_on": None, "uses": {"teaching"}}
    given["starts_on"] = datetime.date(2026, 1, 1)
    return record_permission(exhibit=exhibit, recorded_by=by.person, **(given | fields))


def make_published(club: Club, by: Membership, seed: int = 0, **fields: Any) -> Exhibit:
    """A photograph that its owner lets be taught with, published."""
    made = make_photograph(club, by, seed, **fields)
    permit(made, by)
    publish_exhibit(exhibit=made)
    return made


def make_placement(exhibit: Exhibit, by: Membership, points: dict[str, Any], **fields: Any) -> Placement:
    """One person's finished points; `finished_at=None` leaves them unfinished."""
    sent = {"points": {name: at and list(at) for name, at in points.items()}}
    save_points(exhibit=exhibit, by=by.person, sent=sent, seen=0, identity=uuid.uuid4())
    made = finish_points(exhibit=exhibit, by=by.person)
    Placement.objects.filter(pk=made.pk).update(**fields)
    made.refresh_from_db()
    return made


def make_invitation(club: Club, role: Role = Role.TRAINEE, **fields: Any) -> tuple[Invitation, str]:
    """An invitation and its token; fields, such as `expires_at`, are set afterwards."""
    by = club.memberships.filter(secretary=True).first()
    invitation, token = invite(club=club, role=role, invited_by=by and by.person)
    Invitation.objects.filter(pk=invitation.pk).update(**fields)
    invitation.refresh_from_db()
    return invitation, token


def make_plate(edition: Edition, by: Membership, **fields: Any) -> Plate:
    """A published plate of clause 5.1 with a correct and an incorrect exhibit, unless others are given."""
    made = begin_plate(edition=edition, title=fields.get("title", "Lay of shoulder"))
    note = fields.get("note", "Look from the withers to the point of shoulder.")
    word_plate(plate=made, number=fields.get("number", made.number), title=made.title, note=note)
    first = edition.clauses.filter(number="5.1").first() or make_clause(edition)
    for clause in fields.get("clauses", [first]):
        set_clause(plate=made, clause=clause)
    club, breed = edition.breed.club, edition.breed
    for side in ("correct", "incorrect"):
        for exhibit in fields.get(side) or [make_exhibit(club, by, breed=breed)]:
            set_exhibit(plate=made, exhibit=exhibit, side=side)
    publish_plate(plate=made)
    return made


def make_module(edition: Edition, *places: Plate | str, **fields: Any) -> Module:
    """A published module of a published course: plates, and texts by their titles; one text if none is given."""
    course = fields.get("course") or begin_course(edition=edition, title="Clause by clause")
    made = add_module(course=course, title=fields.get("title", "Forequarters"))
    for each in places or ("How the front carries",):
        if isinstance(each, Plate):
            add_plate(module=made, plate=each)
        else:
            place = add_text(module=made, title=each)
            word_place(place=place, title=each, text=f"Of {each.lower()}.")
    publish_module(module=made)
    if course.state != "published":
        publish_course(course=course)
    return made


def make_sittings(quiz: Quiz, contents: list[list[dict[str, Any]]], **fields: Any) -> list[Membership]:
    """A finished sitting of a new trainee for each list of contents, one for each item, marked as anew.

    `trainees` and `number` make further sittings of the same people.
    """
    club, first = quiz.edition.breed.club, Membership.objects.count()
    trainees = fields.pop("trainees", None) or [
        make_trainee(club, f"Trainee {first + number}") for number in range(len(contents))
    ]
    given = {"number": 1, "finished_at": timezone.now()} | fields
    items = list(quiz.items.order_by("quiz_items__position"))
    for trainee, said_of in zip(trainees, contents, strict=True):
        sitting = Sitting.objects.create(quiz=quiz, trainee=trainee, **given)
        Answer.objects.bulk_create(
            Answer(
                sitting=sitting, item=item, position=place, content=content, handed_in_at=given["finished_at"]
            )
            for place, (item, content) in enumerate(zip(items, said_of, strict=True))
        )
    for item in items:
        remark(item=item, quiz_id=quiz.pk)
    return trainees


def make_critique(edition: Edition, by: Membership, exhibits: int = 1, **fields: Any) -> Item:
    """A critique in use of so many exhibits, with the usual rubric and a model answer."""
    shown = [make_exhibit(edition.breed.club, by, breed=edition.breed) for _ in range(exhibits)]
    item = make_item(edition=edition, by=by.person, kind="write-a-critique", exhibits=shown, **fields)
    key = item.keys.get()
    key.content["model"] = {part: f"The model of {part}." for part in key.content["model"]}
    key.content["expected"]["virtues"] = "Clean outline\nLevel back"
    save_draft(key=key, sound=False, note="", content=key.content, by=by.person)
    publish_key(item=item, by=by.person)
    item.refresh_from_db()
    return item


def make_written(trainee: Membership, item: Item, quiz: Quiz | None = None, **parts: str) -> Answer:
    """A handed-in critique in a quiz of its own, or in an open one."""
    if quiz is None:
        quiz = make_quiz(edition=item.edition, title="Critiques", by=item.made_by)
        add_item(quiz=quiz, item=item)
        open_quiz(quiz=quiz)
    answer = begin_sitting(quiz=quiz, trainee=trainee).answers.get(item=item)
    names = ["virtues", "short", "reason", "grants"][: 4 if item.item_exhibits.count() > 1 else 2]
    texts = {name: parts.get(name, f"Words on {name}.") for name in names}
    save_answer(answer=answer, sent={"parts": texts}, seen=answer.revision, identity=uuid.uuid4())
    answer.refresh_from_db()
    return hand_in(answer=answer, seen=answer.revision)


def given(accuracy: int = 3, completeness: int = 2, weighing: int = 4, language: int = 4) -> dict[str, Any]:
    """A rubric filled in: by the usual weights 3, 3, 3 and 1 it gives 77.5 of 100."""
    reached = {
        "accuracy": accuracy,
        "completeness": completeness,
        "weighing": weighing,
        "language": language,
    }
    return {"reached": reached, "words": dict.fromkeys(reached, ""), "overall": "Look at the loin again."}
