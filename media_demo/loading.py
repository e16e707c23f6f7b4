"""The scenario's Markdown and TOML, read into what the builders ask for. No Django here.

`scale="small"` keeps one corner of the course: two modules with a plate and a short quiz each, and one
trainee of each kind of eye. It is what tests build.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any, Literal

from media_demo.eyes import Eye
from media_demo.figures import Figure, item_figure, plate_figure

FOLDER = Path(__file__).parent / "scenario"
SMALL_MODULES = ("forequarters", "body")
SMALL_ITEMS = 4
SMALL_SITTINGS = 2

Scale = Literal["full", "small"]


@dataclass(frozen=True)
class EditionText:
    """One edition of the standard, as written."""

    title: str
    issued_on: date
    state: str
    text: str


@dataclass(frozen=True)
class Member:
    """A person of the club; `mentors` are the addresses of those they mentor."""

    name: str
    email: str
    roles: tuple[str, ...]
    eye: str
    sittings: int = 0
    again: int = 0  # how often each of those was answered once more
    begun: int = 0  # items answered of the quiz that comes after those
    reads: int = 0  # places read of the module that comes after those of the finished quizzes
    luck: int = 0  # another number, other answers of the same eye
    panel: bool = False
    mentors: tuple[str, ...] = ()


@dataclass(frozen=True)
class NamedFault:
    """One line of the club's list; `also` maps presets that a panel accepts to their credit."""

    name: str
    virtue: str
    zone: str
    clause: str
    level: str
    other_names: tuple[str, ...]
    figure: str = ""
    also: Mapping[str, float] | None = None


@dataclass(frozen=True)
class PlateText:
    """A plate with its exhibits in the order of their letters."""

    number: int
    title: str
    module: str
    clauses: tuple[str, ...]
    note: str
    correct: tuple[Figure, ...]
    incorrect: tuple[Figure, ...]


@dataclass(frozen=True)
class DraftText:
    """A plate that is not finished."""

    title: str
    clauses: tuple[str, ...]
    note: str


@dataclass(frozen=True)
class QuizText:
    """A quiz with the exhibits of its items, the dogs that they show, and whether a panel settles its keys."""

    key: str
    title: str
    module: str
    introduction: str
    items: tuple[Figure, ...]
    dogs: tuple[str, ...]
    panel: bool


@dataclass(frozen=True)
class KeyChange:
    """What becomes of the key of one item, counted from 1 in its quiz."""

    quiz: str
    item: int
    note: str


@dataclass(frozen=True)
class Contested:
    """An item, counted from 1 in its quiz, at which some of the panel look with other eyes, by their addresses."""

    quiz: str
    item: int
    eyes: Mapping[str, str]


@dataclass(frozen=True)
class PanelText:
    """What the club's panel says, who of it has not handed in yet, and about which items it is of several minds."""

    departs: str
    again: str
    waiting: tuple[str, ...]
    contested: tuple[Contested, ...]


@dataclass(frozen=True)
class ModuleText:
    """A module: its words, then its plates by number, then its quizzes by key."""

    key: str
    title: str
    summary: str
    text: str
    plates: tuple[int, ...]
    quizzes: tuple[str, ...]


@dataclass(frozen=True)
class Scenario:
    """All that the demo is built from."""

    club: Mapping[str, Any]
    editions: tuple[EditionText, ...]
    measures: tuple[Mapping[str, Any], ...]
    faults: tuple[NamedFault, ...]
    course: Mapping[str, str]
    modules: tuple[ModuleText, ...]
    plates: tuple[PlateText, ...]
    drafts: tuple[DraftText, ...]
    quizzes: tuple[QuizText, ...]
    revised: KeyChange
    drafted: KeyChange
    panel: PanelText
    members: tuple[Member, ...]
    trainees: tuple[Member, ...]
    eyes: Mapping[str, Eye]
    reviews: Mapping[str, Any]
    mentoring: Mapping[str, Any]
    critiques: Mapping[str, Any]
    on_a_picture: Mapping[str, Any]
    in_words: Mapping[str, Any]
    paper: Mapping[str, Any]

    def item_figures(self) -> list[Figure]:
        """Of all quizzes, each picture once."""
        return _once(figure for quiz in self.quizzes for figure in quiz.items)

    def figure_keys(self) -> dict[tuple[str, int], str]:
        """The key of each quiz picture, by its quiz's key and its number there."""
        return {
            (quiz.key, number): figure.key
            for quiz in self.quizzes
            for number, figure in enumerate(quiz.items, start=1)
        }

    def plate_figures(self) -> list[Figure]:
        """Of all plates, each picture once, the correct ones first."""
        correct = [figure for plate in self.plates for figure in plate.correct]
        return _once([*correct, *(figure for plate in self.plates for figure in plate.incorrect)])

    def figures(self) -> list[Figure]:
        """Every picture of the demo, once."""
        return _once([*self.item_figures(), *self.plate_figures()])


def read_scenario(scale: Scale = "full") -> Scenario:
    """Everything in `scenario/`; see the head of this module for the small one."""
    people, words = _toml("people"), _toml("modules")
    scenario = Scenario(
        club=people["club"],
        editions=tuple(_edition(row) for row in people["club"]["editions"]),
        measures=tuple(_toml("measures")["measures"]),
        faults=tuple(_fault(row) for row in _toml("faults")["fault"]),
        course={name: unwrapped(text) for name, text in words["course"].items()},
        modules=tuple(_module(row) for row in words["module"]),
        plates=tuple(_plate(row) for row in _toml("plates")["plate"]),
        drafts=tuple(
            DraftText(row["title"], tuple(row["clauses"]), row["note"]) for row in _toml("plates")["draft"]
        ),
        quizzes=tuple(_quiz(row, _toml("dogs")) for row in _toml("quizzes")["quiz"]),
        revised=KeyChange(**_toml("quizzes")["revised"]),
        drafted=KeyChange(**_toml("quizzes")["drafted"]),
        panel=_panel(_toml("panels")),
        members=tuple(_member(row) for row in people["member"]),
        trainees=tuple(_member({"roles": ["trainee"]} | row) for row in people["trainees"]),
        eyes={name: Eye(**row) for name, row in people["eye"].items()},
        reviews=_toml("reviews"),
        mentoring=_toml("mentoring"),
        critiques=_toml("critiques"),
        on_a_picture=_toml("on_a_picture"),
        in_words=_toml("in_words"),
        paper=_toml("paper"),
    )
    return _smaller(scenario) if scale == "small" else scenario


def _smaller(whole: Scenario) -> Scenario:
    modules = tuple(
        replace(module, plates=module.plates[:1], quizzes=module.quizzes[:1])
        for module in whole.modules
        if module.key in SMALL_MODULES
    )
    plates = {number for module in modules for number in module.plates}
    quizzes = {key for module in modules for key in module.quizzes}
    one_of_each = {trainee.eye: trainee for trainee in reversed(whole.trainees)}
    return replace(
        whole,
        modules=modules,
        plates=tuple(plate for plate in whole.plates if plate.number in plates),
        quizzes=tuple(
            replace(quiz, items=quiz.items[:SMALL_ITEMS], dogs=quiz.dogs[:SMALL_ITEMS])
            for quiz in whole.quizzes
            if quiz.key in quizzes
        ),
        members=tuple(
            replace(one, sittings=min(one.sittings, 1), again=0, begun=min(one.begun, 2))
            for one in whole.members
        ),
        trainees=tuple(
            replace(one, sittings=min(one.sittings, SMALL_SITTINGS), again=0) for one in one_of_each.values()
        ),
    )


def unwrapped(text: str) -> str:
    """Paragraphs on one line each, as people type them; items of a list stay on lines of their own."""
    return "\n\n".join(_one_line(part) for part in text.strip().split("\n\n"))


def _one_line(paragraph: str) -> str:
    lines: list[str] = []
    for line in paragraph.splitlines():
        if lines and not line.startswith("- "):
            lines[-1] += f" {line.strip()}"
        else:
            lines.append(line.strip())
    return "\n".join(lines)


def _toml(name: str) -> dict[str, Any]:
    return tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))


def _edition(row: Mapping[str, Any]) -> EditionText:
    text = (FOLDER / row["file"]).read_text(encoding="utf-8")
    return EditionText(row["title"], row["issued_on"], row["state"], text)


def _fault(row: Mapping[str, Any]) -> NamedFault:
    return NamedFault(**{**row, "other_names": tuple(row["other_names"])})


def _member(row: Mapping[str, Any]) -> Member:
    return Member(**{**row, "roles": tuple(row["roles"]), "mentors": tuple(row.get("mentors", ()))})


def _panel(row: Mapping[str, Any]) -> PanelText:
    return PanelText(
        departs=row["departs"].strip(),
        again=row["again"],
        waiting=tuple(row["waiting"]),
        contested=tuple(Contested(**each) for each in row["contested"]),
    )


def _module(row: Mapping[str, Any]) -> ModuleText:
    return ModuleText(
        row["key"],
        row["title"],
        row["summary"],
        unwrapped(row["text"]),
        tuple(row["plates"]),
        tuple(row["quizzes"]),
    )


def _plate(row: Mapping[str, Any]) -> PlateText:
    return PlateText(
        number=row["number"],
        title=row["title"],
        module=row["module"],
        clauses=tuple(row["clauses"]),
        note=unwrapped(row["note"]),
        correct=tuple(plate_figure(row, exhibit) for exhibit in row["correct"]),
        incorrect=tuple(plate_figure(row, exhibit) for exhibit in row["incorrect"]),
    )


def _quiz(row: Mapping[str, Any], dogs: Mapping[str, Any]) -> QuizText:
    return QuizText(
        key=row["key"],
        title=row["title"],
        module=row["module"],
        introduction=row["introduction"],
        items=tuple(item_figure(item, dogs[item["dog"]]) for item in row["items"]),
        dogs=tuple(item["dog"] for item in row["items"]),
        panel=row.get("panel", False),
    )


def _once(figures: Any) -> list[Figure]:
    return list({figure.key: figure for figure in figures}.values())
