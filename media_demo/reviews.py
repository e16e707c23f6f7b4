"""Mentors look at answers: they pin comments where the mark shows that points were lost, adjust, and return."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from assessments.actions.reviews import adjust_mark, ask_query, pin_comment, return_answer
from assessments.models import Answer, Mark
from assessments.queries.answers import reviewable_by
from media_demo.eyes import middle
from media_demo.loading import Scenario
from media_demo.people import People
from shared.accounts.models import Membership

# A comment on an answer without a flaw is made on so many of them: mentors have little time.
PRAISED = 4
COMMENTS_AT_MOST = 2
PERFECT = 0.9995
# A pin that keeps so much of its credit for the place stands a finger's breadth from the region.
NEAR = 0.5
# Fewer points than this are not worth a word.
WORTH = 0.02


@dataclass(frozen=True)
class Remark:
    """Something to say of a spot, and how many points it is about."""

    lost: float
    case: str
    kind: str
    spot: tuple[float | None, float | None]
    words: Mapping[str, Any]


@dataclass
class Desk:
    """Both mentors at work. Sentences for one case are used in turn."""

    scenario: Scenario
    people: People
    used: Counter[str] = field(default_factory=Counter)
    perfect: int = 0

    def review_all(self) -> int:
        """Every mentor returns all but the newest answers of each of their trainees; how many were returned."""
        return sum(
            self._review(self.people.by_email[member.email], self.people.by_email[email])
            for member in self.scenario.members
            for email in member.mentors
            if email in self.people.by_email
        )

    def _review(self, mentor: Membership, trainee: Membership) -> int:
        answers = list(
            reviewable_by(mentor).filter(sitting__trainee=trainee).order_by("sitting__pk", "position")
        )
        returned = answers[: -self._said["waiting"]]
        for answer in returned:
            self._look_at(answer, mentor)
        self._give_one_pin_in_full(returned, mentor)
        self._answer_query(returned, trainee, mentor)
        self._dispute(returned, trainee)
        return len(returned)

    def _look_at(self, answer: Answer, mentor: Membership) -> None:
        for remark in self._worth_saying(answer.current_marks[0]):
            x, y = remark.spot
            pin_comment(answer=answer, author=mentor, text=self._sentence(remark), x=x, y=y)
        return_answer(answer=answer, mentor=mentor)

    def _worth_saying(self, mark: Mark) -> Sequence[Remark]:
        if mark.score >= PERFECT:
            self.perfect += 1
            kind = "faulty" if mark.detail["entries"] else "sound"
            return [Remark(0, "clean", kind, (None, None), {})] if self.perfect % PRAISED == 1 else []
        found = sorted(remarks_on(mark.detail), key=lambda remark: -remark.lost)
        thorough = mark.score * 100 < self._said["thorough_below"]
        return found[: COMMENTS_AT_MOST if thorough else 1]

    def _sentence(self, remark: Remark) -> str:
        sentences = self._said[remark.case][remark.kind]
        turn = self.used[f"{remark.case} {remark.kind}"]
        self.used[f"{remark.case} {remark.kind}"] += 1
        said = sentences[turn % len(sentences)].format(**remark.words)
        return said[0].upper() + said[1:]

    def _give_one_pin_in_full(self, answers: Sequence[Answer], mentor: Membership) -> None:
        for answer in answers:
            mark = answer.current_marks[0]
            for match in mark.detail["matches"]:
                if NEAR <= match["location"] < 1 and match["name"] == 1 and not mark.detail["capped"]:
                    lost = match["points"] / match["location"] - match["points"]
                    if lost >= WORTH:
                        self._adjust(answer, mentor, self._said["near"], lost, pin=match["mark"] + 1)
                        return

    def _adjust(
        self, answer: Answer, mentor: Membership, said: Mapping[str, str], share: float, **words: Any
    ) -> None:
        points = Decimal(str(round(share * 100, 1)))
        words = {**words, "points": points}
        adjust_mark(
            answer=answer,
            mentor=mentor,
            what=said["what"].format(**words),
            points=points,
            reason=said["reason"].format(**words),
        )
        return_answer(answer=answer, mentor=mentor)

    def _answer_query(self, answers: Sequence[Answer], trainee: Membership, mentor: Membership) -> None:
        """Who pinned one of two faults side by side asks whether the other counts, and gets the seeing of it."""
        said = self._said["query"]
        if trainee.person.email != said["email"]:
            return
        for answer in reversed(answers):
            mark = answer.current_marks[0]
            pair = _one_of_two(mark.detail)
            if pair and not mark.detail["capped"]:
                seen, missed = pair
                words = {"seen": seen["fault"].lower(), "missed": missed["fault"].lower()}
                ask_query(answer=answer, text=said["text"].format(**words))
                x, y = middle(missed["regions"][0])
                reply = said["reply"].format(**words)
                pin_comment(answer=answer, author=mentor, text=reply, x=x, y=y)
                rules = mark.rules.rules
                share = rules["see"] * _weight(mark, missed)
                self._adjust(answer, mentor, said, share, letter=missed["letter"])
                return

    def _dispute(self, answers: Sequence[Answer], trainee: Membership) -> None:
        said = self._said["dispute"]
        if trainee.person.email != said["email"]:
            return
        for answer in reversed([answer for answer in answers if not answer.adjustments.exists()]):
            mark = answer.current_marks[0]
            for match in mark.detail["matches"]:
                entry = mark.detail["entries"][match["entry"]]
                given = mark.detail["marks"][match["mark"]]["level"]
                if match["name"] == 1 and given is not None and given > entry["level"]:
                    level = mark.rules.ladder["labels"][entry["level"]]
                    text = said["text"].format(fault=entry["fault"].lower(), level=level)
                    ask_query(answer=answer, text=text)
                    return

    @property
    def _said(self) -> Mapping[str, Any]:
        return self.scenario.reviews


def remarks_on(detail: Mapping[str, Any]) -> Iterator[Remark]:
    """What a mark shows that somebody should be told, in no order."""
    lost = _lost_by_entry(detail)
    for place in detail["missed"]:
        entry = detail["entries"][place]
        yield Remark(lost[place], "missed", entry["zone"], _spot(entry), _words(entry))
    for match in detail["matches"]:
        entry, pin = detail["entries"][match["entry"]], detail["marks"][match["mark"]]
        words, spot = _words(entry, pin["name"]), (pin["x"], pin["y"])
        if match["name"] < 1:
            yield Remark(lost[match["entry"]], "misnamed", "any" if pin["name"] else "unnamed", spot, words)
        elif pin["level"] is not None and pin["level"] != entry["level"]:
            kind = "heavy" if pin["level"] > entry["level"] else "light"
            yield Remark(lost[match["entry"]], "weighed", kind, spot, words)
    for place in detail["false_alarms"]:
        pin = detail["marks"][place]
        yield Remark(0.05, "called", "any", (pin["x"], pin["y"]), {})


def _lost_by_entry(detail: Mapping[str, Any]) -> Counter[int]:
    lost: Counter[int] = Counter()
    for line in detail["lines"]:
        if line["entry"] is not None and line["available"] is not None:
            lost[line["entry"]] += line["available"] - line["points"]
    return lost


def _words(entry: Mapping[str, Any], named: str | None = None) -> dict[str, str]:
    return {"fault": entry["fault"].lower(), "clause": entry["clause"], "named": (named or "").lower()}


def _spot(entry: Mapping[str, Any]) -> tuple[float | None, float | None]:
    return middle(entry["regions"][0]) if entry["regions"] else (None, None)


def _one_of_two(detail: Mapping[str, Any]) -> tuple[Mapping[str, Any], Mapping[str, Any]] | None:
    """A fault that was seen and named, and one of the same zone that was missed."""
    seen = [detail["entries"][match["entry"]] for match in detail["matches"] if match["name"] == 1]
    missed = [detail["entries"][place] for place in detail["missed"]]
    for one in seen:
        for other in missed:
            if one["zone"] == other["zone"] and other["regions"]:
                return one, other
    return None


def _weight(mark: Mark, entry: Mapping[str, Any]) -> float:
    """The entry's part of all weights of its key."""
    weights = mark.rules.ladder["weights"]
    return weights[entry["level"]] / sum(weights[each["level"]] for each in mark.detail["entries"])
