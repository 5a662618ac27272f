from django.db import models


class PanelPrint(models.Model):
    """The fingerprint of a panel on one revision, by which its drawing is known again on later pages."""

    panel = models.ForeignKey("board.Panel", on_delete=models.CASCADE, related_name="prints")
    revision = models.ForeignKey("board.Revision", on_delete=models.CASCADE, related_name="prints")
    high = models.FloatField()  # the panel's height in its widths
    at = models.BinaryField()  # float32 (N, 2), little-endian: points in panel widths from its upper left corner
    bits = models.BinaryField()  # uint8 (N, 32): what is drawn around each

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["panel", "revision"], name="one_print_per_panel_and_revision")]

    def __str__(self) -> str:
        return f"{self.panel} on revision {self.revision_id}"
