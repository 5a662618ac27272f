from django.db import models

from board.models.page import STAGE_CHOICES


class HandIn(models.Model):
    """A stage of a work as it was handed in: the receipt. Handing in again makes another; the last one counts."""

    work = models.ForeignKey("board.Work", on_delete=models.CASCADE, related_name="hand_ins")
    stage = models.CharField(max_length=10, choices=STAGE_CHOICES)
    number = models.PositiveIntegerField()  # 1, 2, 3… in this work
    handed_in_at = models.DateTimeField()
    due_at = models.DateTimeField(null=True, blank=True)  # as it stood then, any extension included, one given later too
    minutes_late = models.PositiveIntegerField(default=0)
    files = models.JSONField()  # [{"page": number, "revision": id, "sha256": …}]
    digest = models.CharField(max_length=64)  # SHA-256 over the lines "page sha256"

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["work", "number"], name="hand_ins_are_numbered_in_their_work")]

    def __str__(self) -> str:
        return self.receipt

    @property
    def receipt(self) -> str:
        return f"{self.work_id}-{self.number}-{self.digest[:8]}"

    @property
    def number_in_stage(self) -> int:
        return HandIn.objects.filter(work=self.work_id, stage=self.stage, number__lte=self.number).count()
