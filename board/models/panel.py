from collections.abc import Iterable

from django.db import models

from board.models.page import STAGE_CHOICES
from board.models.versioned import Versioned

OWN_DRAWING = "A"  # among a panel's alternates: as the page's own picture shows it


class Panel(Versioned):
    """A picture on the page with one identity through all revisions; where it stands on each is a `PanelShape`."""

    page = models.ForeignKey("board.Page", on_delete=models.CASCADE, related_name="panels")
    order = models.PositiveIntegerField()  # in reading order, on the newest revision that has it
    happens = models.TextField(blank=True)
    said = models.TextField(blank=True)
    still = models.ForeignKey("board.Reference", on_delete=models.SET_NULL, null=True, blank=True, related_name="panels")
    # Where the still lies under it: {"in_still", "on_page": two points each, "by"} and the panel's "bounds" when it was placed
    still_place = models.JSONField(null=True, blank=True)
    # Ids of checks that leave this panel alone: the distortion is meant.
    left_alone_by = models.JSONField(default=list, blank=True)
    # Set by hand, in page coordinates: {"eye_level", "points", "parallel_edges"} and the panel's "bounds" when it was set
    given_perspective = models.JSONField(null=True, blank=True)
    # Stood on its floor by hand: {"posts": [{"foot", "character" or "height_m", …}], "eye_height_m"} and the panel's "bounds" then
    figure_posts = models.JSONField(null=True, blank=True)
    sent_back_to = models.CharField(max_length=10, choices=STAGE_CHOICES, blank=True)
    handed_in_at = models.DateTimeField(null=True, blank=True)
    chosen_alternate = models.CharField(max_length=2, default=OWN_DRAWING)
    is_gone = models.BooleanField(default=False)  # the newest revision no longer has it

    class Meta:
        ordering = ["page", "order", "pk"]

    def __str__(self) -> str:
        return f"panel {self.order} of {self.page}"

    @property
    def own_state(self) -> str:
        """Where it stands while it does not move with its page, in words; "" while it does."""
        if not self.sent_back_to:
            return ""
        return "handed in" if self.handed_in_at else "sent back"


class PanelShape(models.Model):
    """Where a panel stands on one revision."""

    panel = models.ForeignKey(Panel, on_delete=models.CASCADE, related_name="shapes")
    revision = models.ForeignKey("board.Revision", on_delete=models.CASCADE, related_name="shapes")
    order = models.PositiveIntegerField()
    polygon = models.JSONField()  # [[x, y], …] page coordinates
    is_framed = models.BooleanField(default=True)
    is_by_hand = models.BooleanField(default=False)

    class Meta:
        ordering = ["order"]
        constraints = [models.UniqueConstraint(fields=["panel", "revision"], name="one_shape_per_panel_and_revision")]

    def __str__(self) -> str:
        return f"{self.panel} on revision {self.revision_id}"


def is_corrected(shapes: Iterable[PanelShape]) -> bool:
    """Whether a person said what panels a picture has: then all are by hand. One that was carried stands among those found."""
    by_hand = [shape.is_by_hand for shape in shapes]
    return bool(by_hand) and all(by_hand)
