"""Seeing apart from calling: how well faulty zones are told from sound ones, and how readily one calls."""

from collections.abc import Iterable, Set
from dataclasses import dataclass
from math import exp, isfinite, pi, sqrt
from typing import Literal

from scipy.special import ndtri

# House rule: with fewer zones of either kind the normal approximation of the intervals is poor.
ZONES_FOR_INTERVAL = 10
NORMAL_95 = float(ndtri(0.975))


@dataclass(frozen=True)
class Detection:
    """What a person's marks say about their eye (d′) and about their readiness to call (criterion).

    d_prime: 0 is guessing, about 1 fair, 3 very sharp; in standard deviations of the impression.
    criterion: negative calls too readily (over-faults), positive too rarely (under-faults), 0 is neutral.
    hit_rate, false_alarm_rate: the rates that were used, after correction.
    faulty, sound: zones of each kind that were looked at. enough: whether there are enough of both.
    """

    d_prime: float
    criterion: float
    hit_rate: float
    false_alarm_rate: float
    d_prime_se: float
    criterion_se: float
    faulty: int
    sound: int
    enough: bool

    @property
    def criterion_interval(self) -> tuple[float, float]:
        """95 % interval of the criterion."""
        reach = NORMAL_95 * self.criterion_se
        return self.criterion - reach, self.criterion + reach

    @property
    def tendency(self) -> Literal["over-faults", "under-faults"] | None:
        """What the interval allows to say; None where it holds 0 or there is too little."""
        low, high = self.criterion_interval
        if not self.enough or low <= 0 <= high:
            return None
        return "over-faults" if high < 0 else "under-faults"


def sensitivity_and_bias(
    hits: int,
    misses: int,
    false_alarms: int,
    correct_rejections: int,
    correction: Literal["log-linear"] | None = "log-linear",
) -> Detection:
    """d′ = z(H) − z(F) and c = −(z(H) + z(F)) / 2, with their standard errors.

    Counts are zones of exhibits: faulty ones that were marked (hits) or not (misses), sound ones that were
    marked (false alarms) or not (correct rejections). "log-linear" adds 0.5 to each count of marked zones
    and 1 to the number of zones, always, so that rates of 0 and 1 stay finite (Hautus 1995, Behavior
    Research Methods 27:46–51). Standard errors: Gourevitch and Galanter (1967), Psychometrika 32:25–33,
    from the rates and numbers so corrected.

    Raises ValueError for a count that is negative or not whole, where no zone of one kind was looked at,
    and with `correction=None` for a rate of 0 or 1.
    """
    if correction not in ("log-linear", None):
        raise ValueError(f'correction = {correction!r}: must be "log-linear" or None')
    counts = {"hits": hits, "misses": misses, "false_alarms": false_alarms}
    for name, count in {**counts, "correct_rejections": correct_rejections}.items():
        _check_count(name, count)
    added = 0.5 if correction else 0.0
    h, signal_variance = _rate_and_variance("faulty", hits, misses, added)
    f, noise_variance = _rate_and_variance("sound", false_alarms, correct_rejections, added)
    zh, zf = float(ndtri(h)), float(ndtri(f))
    se = sqrt(signal_variance + noise_variance)
    faulty, sound = int(hits + misses), int(false_alarms + correct_rejections)
    enough = min(faulty, sound) >= ZONES_FOR_INTERVAL
    return Detection(zh - zf, -(zh + zf) / 2, h, f, se, se / 2, faulty, sound, enough)


def _check_count(name: str, count: float) -> None:
    if not isfinite(count) or count < 0 or count != int(count):
        raise ValueError(f"{name} = {count}: a count is a whole number, at least 0")


def _rate_and_variance(kind: str, marked: int, unmarked: int, added: float) -> tuple[float, float]:
    """The rate of marked zones, and the variance of its z."""
    if marked + unmarked == 0:
        raise ValueError(f"0 {kind} zones: a rate needs at least 1")
    number = marked + unmarked + 2 * added
    rate = (marked + added) / number
    if rate in (0.0, 1.0):
        raise ValueError(
            f"{marked} of {marked + unmarked} {kind} zones marked: "
            "without correction a rate must lie between 0 and 1"
        )
    density = exp(-(float(ndtri(rate)) ** 2) / 2) / sqrt(2 * pi)
    return rate, rate * (1 - rate) / (number * density**2)


@dataclass(frozen=True)
class LookedAt:
    """One exhibit as one person marked it.

    visible: zones that its view shows; faulty: zones with a fault in the key; marked: the zone of each
    mark, None where it has none (`zone_of_mark`).
    """

    visible: Set[str]
    faulty: Set[str]
    marked: tuple[str | None, ...]


@dataclass(frozen=True)
class ZoneCounts:
    """Zones of many exhibits by what they are and what was said; marks that have no zone here."""

    hits: int
    misses: int
    false_alarms: int
    correct_rejections: int
    left_out: int


def zone_of_mark(matched: str | None, named: str | None, containing: str | None) -> str | None:
    """The zone of the entry a mark is matched to, else of the fault it names, else where it lies."""
    return matched or named or containing


def count_zones(exhibits: Iterable[LookedAt]) -> ZoneCounts:
    """Count the zones for `sensitivity_and_bias`; a zone counts once however many marks it has.

    A zone of the key counts as visible. A mark without a zone, or in one that is not visible, is left out.
    """
    hits = misses = false_alarms = correct_rejections = left_out = 0
    for exhibit in exhibits:
        sound = exhibit.visible - exhibit.faulty
        marked = set(exhibit.marked)
        hits += len(exhibit.faulty & marked)
        misses += len(exhibit.faulty - marked)
        false_alarms += len(sound & marked)
        correct_rejections += len(sound - marked)
        left_out += sum(zone not in sound and zone not in exhibit.faulty for zone in exhibit.marked)
    return ZoneCounts(hits, misses, false_alarms, correct_rejections, left_out)
