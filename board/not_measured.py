"""What a measurement answers when the drawing does not show enough to measure."""

from dataclasses import dataclass


@dataclass(frozen=True)
class NotMeasured:
    """Falsy, with the reason that people read: `NotMeasured("2 segments found; 6 are needed")`.

    A value and not an error: it is shown as such, never retried and never dressed up as a pass.
    """

    reason: str

    def __bool__(self) -> bool:
        return False
