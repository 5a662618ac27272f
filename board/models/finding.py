from django.db import models


class Finding(models.Model):
    """What a check found on one revision, with the geometry to draw. Its note lives on from revision to revision."""

    note = models.ForeignKey("board.Note", on_delete=models.CASCADE, related_name="findings")
    job = models.ForeignKey("board.Job", on_delete=models.CASCADE, related_name="findings")
    revision = models.ForeignKey("board.Revision", on_delete=models.CASCADE, related_name="findings")
    panel = models.ForeignKey("board.Panel", on_delete=models.SET_NULL, null=True, blank=True, related_name="findings")
    kind = models.CharField(max_length=40)
    measured = models.FloatField()
    expected = models.FloatField()
    tolerance = models.FloatField()
    unit = models.CharField(max_length=20)
    confidence = models.FloatField()
    text = models.TextField()
    geometry = models.JSONField()
    # Against the same finding on the revision before: "new", "better", "same", "worse"
    trend = models.CharField(max_length=6, default="new")

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["note", "revision"], name="one_finding_per_note_and_revision")]

    def __str__(self) -> str:
        return f"{self.kind}: {self.measured} {self.unit}"
