"""When to try again what failed: later each time, and not all at the same moment."""

import random
from collections.abc import Callable

FIRST_SECONDS, LONGEST_SECONDS = 1.0, 60.0
SPREAD = 0.25


class Patience:
    """By name of what failed. `tries` counts failures since the last success."""

    def __init__(self, clock: Callable[[], float], chance: Callable[[], float] = random.random) -> None:
        self._clock, self._chance = clock, chance
        self._waiting: dict[str, tuple[int, float]] = {}

    def failed(self, name: str, asked_seconds: float | None = None) -> float:
        """In how many seconds to try again."""
        tries = self.tries(name) + 1
        doubled = min(LONGEST_SECONDS, FIRST_SECONDS * 2 ** (tries - 1))
        wait = max(asked_seconds or 0.0, doubled * (1 + SPREAD * self._chance()))
        self._waiting[name] = (tries, self._clock() + wait)
        return wait

    def went_well(self, name: str) -> bool:
        """Whether it had failed before."""
        return self._waiting.pop(name, None) is not None

    def may_try(self, name: str) -> bool:
        return name not in self._waiting or self._clock() >= self._waiting[name][1]

    def tries(self, name: str) -> int:
        return self._waiting[name][0] if name in self._waiting else 0

    @property
    def names(self) -> set[str]:
        return set(self._waiting)
