from django.conf import settings
from django.db import models

from board.models.revision import READY, RECEIVED, REFUSED


class Sheet(models.Model):
    """One picture that holds several thumbnails; it is cut into pages."""

    board = models.ForeignKey("board.Board", on_delete=models.CASCADE, related_name="sheets")
    picture = models.ForeignKey("board.Picture", on_delete=models.PROTECT, related_name="sheets")
    file_name = models.CharField(max_length=200, blank=True)
    state = models.CharField(max_length=10, choices=[(s, s) for s in (RECEIVED, READY, REFUSED)], default=RECEIVED)
    reason = models.CharField(max_length=500, blank=True)
    # Found by the worker: [{"polygon": [[x, y], …]}, …] in page coordinates of the sheet.
    found = models.JSONField(default=list, blank=True)
    # As people decided: [{"polygon": […], "page": page id}, …]
    cuts = models.JSONField(default=list, blank=True)
    uploaded_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    uploaded_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"sheet {self.pk}"
