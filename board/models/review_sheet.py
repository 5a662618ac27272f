from django.conf import settings
from django.db import models

QUEUED, READY, FAILED = REVIEW_SHEET_STATES = ("queued", "ready", "failed")
OPEN_NOTES, ALL_NOTES = NOTES_SHOWN = ("open", "all")


class ReviewSheet(models.Model):
    """A board on paper, as one member sees it: its pages with their notes, numbers and evidence, in a PDF that a worker makes.

    It is theirs alone, since what they may see is not what another may.
    """

    board = models.ForeignKey("board.Board", on_delete=models.CASCADE, related_name="review_sheets")
    requested_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    notes_shown = models.CharField(max_length=4, choices=[(n, n) for n in NOTES_SHOWN], default=OPEN_NOTES)
    digest = models.CharField(max_length=64)  # of what was to be seen when it was asked for
    state = models.CharField(max_length=8, choices=[(s, s) for s in REVIEW_SHEET_STATES], default=QUEUED)
    reason = models.CharField(max_length=500, blank=True)
    file_name = models.CharField(max_length=120, blank=True)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"review sheet of {self.board}"
