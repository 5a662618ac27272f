from django.conf import settings
from django.db import models

QUEUED, READY, FAILED = UNDERLAY_STATES = ("queued", "ready", "failed")


class Underlay(models.Model):
    """A picture to draw on, over one revision or one panel of it: grid, guides and notes, as files that a worker makes."""

    board = models.ForeignKey("board.Board", on_delete=models.CASCADE, related_name="underlays")
    revision = models.ForeignKey("board.Revision", on_delete=models.CASCADE, related_name="underlays")
    panel = models.ForeignKey("board.Panel", on_delete=models.CASCADE, null=True, blank=True, related_name="underlays")
    options = models.JSONField(default=dict, blank=True)
    digest = models.CharField(max_length=64)  # of all that it is made from: asked for again, it is the same row
    state = models.CharField(max_length=8, choices=[(s, s) for s in UNDERLAY_STATES], default=QUEUED)
    reason = models.CharField(max_length=500, blank=True)
    not_drawn = models.JSONField(default=dict, blank=True)  # panel id or guide -> why it has no grid, or is not there
    files = models.JSONField(default=dict, blank=True)  # "svg", "png", "ora" -> its name in the storage
    requested_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-pk"]
        constraints = [models.UniqueConstraint(fields=["revision", "digest"], name="one_underlay_per_revision_and_digest")]

    def __str__(self) -> str:
        return f"underlay of {self.revision}"
