from collections.abc import Iterable

from django.conf import settings
from django.db import models

DECLARED, PROPOSED, REFUSED_SAME_AS = SAME_AS_STATES = ("declared", "proposed", "refused")


def families(pairs: Iterable[tuple[int, int]]) -> dict[int, frozenset[int]]:
    """Panel -> all that it shares its drawing with, itself too, by however many steps of (panel, model)."""
    found: dict[int, frozenset[int]] = {}
    for pair in pairs:
        joined = frozenset[int]().union(*(found.get(panel, {panel}) for panel in pair))
        found |= dict.fromkeys(joined, joined)
    return found


class SameAs(models.Model):
    """One panel takes over the drawing of another: a person said so, a check proposes it, or a person refused that."""

    panel = models.ForeignKey("board.Panel", on_delete=models.CASCADE, related_name="same_as_rows")
    model = models.ForeignKey("board.Panel", on_delete=models.CASCADE, related_name="taken_over_rows")
    state = models.CharField(max_length=10, choices=[(state, state) for state in SAME_AS_STATES], default=DECLARED)
    said_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+")
    said_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["panel", "model"], name="one_same_as_row_per_pair"),
            models.UniqueConstraint(fields=["panel"], condition=models.Q(state=DECLARED), name="one_declared_model_per_panel"),
        ]

    def __str__(self) -> str:
        return f"{self.panel} as {self.model}: {self.state}"
