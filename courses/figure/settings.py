"""One figure, fully described: the values of all parameters, its coat, its markings and a seed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any

from .parameters import PARAMETERS, ImpossibleFigure
from .skeleton import refuse_impossible, solve

COATS: Mapping[str, str] = MappingProxyType(
    {
        "saddle": "Grey saddle on fawn",
        "black_tan": "Black and tan",
        "cream": "Cream",
        "red": "Red",
        "slate": "Slate grey",
        "brindle": "Brindle",
    }
)
MARKINGS: Mapping[str, str] = MappingProxyType(
    {
        "none": "No white",
        "chest": "White on the chest and toes",
        "collar": "White collar, blaze, legs and tail tip",
    }
)


class Settings(Mapping[str, float]):
    """A frozen mapping of parameter values, with `coat`, `markings` and `seed`.

    Raises `ImpossibleFigure`, naming what is wrong, for a value outside its range, for a name that is
    not a parameter, and for values that no standing dog can combine.
    """

    __slots__ = ("_values", "coat", "markings", "seed")

    coat: str
    markings: str
    seed: int
    _values: Mapping[str, float]

    def __init__(
        self,
        values: Mapping[str, float] | None = None,
        *,
        coat: str = "saddle",
        markings: str = "none",
        seed: int = 1,
    ) -> None:
        unknown = sorted(set(values or ()) - set(PARAMETERS))
        if unknown:
            raise ImpossibleFigure(f"There is no parameter called {', '.join(unknown)}.")
        if coat not in COATS:
            raise ImpossibleFigure(f"There is no coat called {coat!r}; there are {', '.join(COATS)}.")
        if markings not in MARKINGS:
            raise ImpossibleFigure(f"There are no markings {markings!r}; there are {', '.join(MARKINGS)}.")
        full = {name: float((values or {}).get(name, p.ideal)) for name, p in PARAMETERS.items()}
        for name, parameter in PARAMETERS.items():
            parameter.check(full[name])
        refuse_impossible(full)
        solve(full)
        object.__setattr__(self, "_values", MappingProxyType(full))
        object.__setattr__(self, "coat", coat)
        object.__setattr__(self, "markings", markings)
        object.__setattr__(self, "seed", int(seed))

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError("Settings do not change; use with_().")

    def __getitem__(self, name: str) -> float:
        return self._values[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._values)

    def __len__(self) -> int:
        return len(self._values)

    def _key(self) -> tuple[object, ...]:
        return (*self._values.values(), self.coat, self.markings, self.seed)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Settings) and self._key() == other._key()

    def __hash__(self) -> int:
        return hash(self._key())

    def __repr__(self) -> str:
        return f"Settings({self.to_dict()!r})"

    def __reduce__(self) -> tuple[Any, ...]:
        """For another process."""
        return Settings.from_dict, (self.to_dict(),)

    def with_(self, **changes: float | str) -> Settings:
        """The same figure with some parameters, or `coat`, `markings` or `seed`, changed."""
        look: dict[str, Any] = {"coat": self.coat, "markings": self.markings, "seed": self.seed}
        look.update({name: changes.pop(name) for name in tuple(look) if name in changes})
        return Settings({**self._values, **{k: float(v) for k, v in changes.items()}}, **look)

    def to_dict(self) -> dict[str, Any]:
        """Plain data for JSON: the values that differ from the ideal, coat, markings and seed."""
        changed = {n: v for n, v in self._values.items() if v != PARAMETERS[n].ideal}
        return {"values": changed, "coat": self.coat, "markings": self.markings, "seed": self.seed}

    @classmethod
    def from_dict(cls, data: Mapping[str, Any]) -> Settings:
        """The inverse of `to_dict`; the same errors as the constructor."""
        return cls(
            data.get("values", {}),
            coat=data.get("coat", "saddle"),
            markings=data.get("markings", "none"),
            seed=data.get("seed", 1),
        )


def ideal() -> Settings:
    """The figure as the standard of the demonstration breed asks for it."""
    return Settings()
