from django.db import models

from board.models.page import STAGE_CHOICES

# A point keeps what works, asks for a change, or asks.
WORKS, CHANGE, ASK = POINT_KINDS = ("works", "change", "ask")
TONE_OF_POINT = {WORKS: "keep", CHANGE: "try", ASK: "ask"}


class CritiqueRound(models.Model):
    """Students read each other's work at one stage. Everybody gives and gets as many critiques; all come at once."""

    assignment = models.ForeignKey("board.Assignment", on_delete=models.CASCADE, related_name="rounds")
    stage = models.CharField(max_length=10, choices=STAGE_CHOICES)
    each_reads = models.PositiveIntegerField()
    is_anonymous = models.BooleanField(default=True)
    due_at = models.DateTimeField()
    delivered_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.stage} of {self.assignment}"


class Critique(models.Model):
    """One student's critique of another's work. Only this row knows who wrote it, and only instructors read that."""

    round = models.ForeignKey(CritiqueRound, on_delete=models.CASCADE, related_name="critiques")
    critic = models.ForeignKey("board.Enrolment", on_delete=models.SET_NULL, null=True, related_name="critiques_given")
    # None: whose work it was took their data away. The words stay with who wrote them.
    work = models.ForeignKey("board.Work", on_delete=models.SET_NULL, null=True, related_name="critiques")
    label = models.CharField(max_length=20)  # "Work 2": how the critic knows it
    # The picture of each page as it was when the round began: [{"page": number, "revision": id}]
    pages = models.JSONField(default=list)
    # [{"kind", "body", "why", "how", "page": number | None, "region", "criterion": id | None}]
    points = models.JSONField(default=list)
    sent_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["round", "critic", "work"], name="one_critique_per_reader_and_work")]

    def __str__(self) -> str:
        return self.label
