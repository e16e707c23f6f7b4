"""How far one person has come, zone by zone and part by part, and when to look at a thing again."""

from collections import defaultdict, deque
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from math import isnan
from typing import Any, Literal

from fsrs import Card, Rating, Scheduler, State
from scipy.special import betaincinv

Part = Literal["see", "name", "weigh"]
Stage = Literal["learning", "review", "relearning"]

LAST_ANSWERS = 30
WIDEST_INTERVAL = 0.35


@dataclass(frozen=True)
class PartScore:
    """One part of one answer: how well something in a zone was seen, named or weighed (0 … 1).

    score: None or NaN where the part was not asked; such an answer is passed over.
    """

    zone: str
    part: Part
    score: float | None


@dataclass(frozen=True)
class Estimate:
    """How well somebody does at present: mean and 90 % interval of the share they get right.

    n: answers it rests on, at most 30. enough: false ("not enough seen yet") while the interval is wider
    than 0.35.
    """

    mean: float
    low: float
    high: float
    n: int
    enough: bool


def estimate(scores: Iterable[float | None]) -> Estimate:
    """The posterior Beta(1 + Σs, 1 + Σ(1 − s)) over the last 30 scores, oldest first.

    Every share is equally likely before the first answer (Bayes's uniform prior); a part score counts as
    that part of a right answer. None and NaN are passed over. Raises ValueError for a score outside 0 … 1.
    """
    last: deque[float] = deque(maxlen=LAST_ANSWERS)
    for score in scores:
        if score is None or isnan(score):
            continue
        _check_score(score)
        last.append(score)
    return share_of(sum(last), len(last))


def share_of(right: float, n: int) -> Estimate:
    """The same posterior from the sum `right` of n scores, however many they are.

    Raises ValueError where the sum is not from 0 to n.
    """
    if not 0 <= right <= n:
        raise ValueError(f"right = {right} of n = {n}: a sum of n scores lies from 0 to n")
    a, b = 1 + right, 1 + n - right
    low, high = (float(betaincinv(a, b, share)) for share in (0.05, 0.95))
    return Estimate(a / (a + b), low, high, n, enough=high - low <= WIDEST_INTERVAL)


def estimates(scores: Iterable[PartScore]) -> dict[tuple[str, Part], Estimate]:
    """An estimate for each zone and part that occurs, from scores given oldest first."""
    by_zone_and_part: defaultdict[tuple[str, Part], list[float | None]] = defaultdict(list)
    for entry in scores:
        by_zone_and_part[entry.zone, entry.part].append(entry.score)
    return {place: estimate(found) for place, found in by_zone_and_part.items()}


def _check_score(score: float) -> None:
    if not 0 <= score <= 1:
        raise ValueError(f"score = {score}: must be from 0 to 1")


@dataclass(frozen=True)
class Review:
    """When a person is to look at one thing again, and what that is reckoned from.

    identity: a number of the caller's. due, last: moments in UTC; `last` is None before the first answer.
    stage, step, stability (days), difficulty (1 … 10): the state of the memory model; of no meaning to a
    reader.
    """

    identity: int
    due: datetime
    stage: Stage = "learning"
    step: int | None = 0
    stability: float | None = None
    difficulty: float | None = None
    last: datetime | None = None

    def to_dict(self) -> dict[str, Any]:
        """The same in numbers, strings and None, fit for JSON."""
        stored = asdict(self)
        stored["due"] = self.due.isoformat()
        stored["last"] = self.last.isoformat() if self.last else None
        return stored

    @classmethod
    def from_dict(cls, stored: Mapping[str, Any]) -> "Review":
        """What `to_dict` made. Raises ValueError for a stage that does not exist."""
        if stored["stage"] not in _STATES:
            raise ValueError(f"stage = {stored['stage']!r}: must be one of {', '.join(_STATES)}")
        last = stored["last"]
        moments = {
            "due": datetime.fromisoformat(stored["due"]),
            "last": datetime.fromisoformat(last) if last else None,
        }
        return cls(**{**stored, **moments})


_STATES: dict[Stage, State] = {
    "learning": State.Learning,
    "review": State.Review,
    "relearning": State.Relearning,
}
_STAGES = {state: stage for stage, state in _STATES.items()}
# Without its random spread, so that the same answers always give the same dates.
_SCHEDULER = Scheduler(enable_fuzzing=False)


def first_review(identity: int, due: datetime) -> Review:
    """A thing not answered yet. `due` carries a time zone."""
    return Review(identity, _utc("due", due))


def next_review(review: Review, score: float, at: datetime) -> Review:
    """The review after an answer given `at` a moment (with time zone) and scored 0 … 1.

    A score below 0.5 counts as forgotten, below 0.7 as hard, below 0.9 as remembered, above as easy, for
    the free spaced repetition scheduler (package fsrs, version 6 of the model) with its published weights
    and a wanted recall of 0.9. Raises ValueError for another score, a moment without a time zone, or one
    before the last answer.
    """
    _check_score(score)
    at = _utc("at", at)
    if review.last and at < review.last:
        raise ValueError(f"at = {at.isoformat()}: the last answer was later, {review.last.isoformat()}")
    card = Card(
        card_id=review.identity,
        state=_STATES[review.stage],
        step=review.step,
        stability=review.stability,
        difficulty=review.difficulty,
        due=review.due,
        last_review=review.last,
    )
    after, _ = _SCHEDULER.review_card(card, _rating(score), at)
    return Review(
        after.card_id,
        after.due,
        _STAGES[after.state],
        after.step,
        after.stability,
        after.difficulty,
        after.last_review,
    )


def _rating(score: float) -> Rating:
    if score < 0.5:
        return Rating.Again
    if score < 0.7:
        return Rating.Hard
    return Rating.Good if score < 0.9 else Rating.Easy


def _utc(name: str, moment: datetime) -> datetime:
    if moment.tzinfo is None:
        raise ValueError(f"{name} = {moment.isoformat()}: a moment needs a time zone")
    return moment.astimezone(UTC)
