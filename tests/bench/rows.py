"""One measured number beside the bar that it is held to."""

import operator
from dataclasses import dataclass
from math import isnan

COMPARE = {"≥": operator.ge, "≤": operator.le}


@dataclass(frozen=True)
class Row:
    """`bar` is "≥" or "≤" with a number; None where a number is only to be looked at."""

    name: str
    value: float
    unit: str = ""
    bar: tuple[str, float] | None = None

    @property
    def holds(self) -> bool | None:
        return bool(COMPARE[self.bar[0]](self.value, self.bar[1])) if self.bar else None

    def as_json(self) -> dict:
        bar = f"{self.bar[0]} {self.bar[1]:g}" if self.bar else None
        # JSON knows no NaN: where nothing was there to be counted, there is no value.
        value = None if isnan(self.value) else round(float(self.value), 4)
        return {"name": self.name, "value": value, "unit": self.unit, "bar": bar, "holds": self.holds}

    def as_line(self) -> str:
        bar = f"{self.bar[0]} {self.bar[1]:g}" if self.bar else ""
        verdict = {True: "holds", False: "MISSED", None: ""}[self.holds]
        return f"{self.name:<66} {self.value:>9.4g} {self.unit:<5} {bar:<9} {verdict}"


def at_least(name: str, value: float, bar: float, unit: str = "") -> Row:
    return Row(name, value, unit, ("≥", bar))


def at_most(name: str, value: float, bar: float, unit: str = "") -> Row:
    return Row(name, value, unit, ("≤", bar))
