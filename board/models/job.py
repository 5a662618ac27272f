from django.core.serializers.json import DjangoJSONEncoder
from django.db import models

JOB_KINDS = ("intake", "renditions", "check", "carry-notes", "sheet", "cut", "reference", "straighten", "underlay", "review-sheet",
             "still-search", "proposals")
QUEUED, RUNNING, DONE, NOT_MEASURED, FAILED = JOB_STATES = ("queued", "running", "done", "not_measured", "failed")
UNFINISHED = (QUEUED, RUNNING)


class Job(models.Model):
    """One piece of background work. The row is the job; the broker only carries its id.

    There is one row for a kind of work on a subject. When its inputs change, the digest changes and the row is queued again;
    what a worker brings back for the older digest no longer fits its claim and is dropped.
    """

    board = models.ForeignKey("board.Board", on_delete=models.CASCADE, related_name="jobs")
    kind = models.CharField(max_length=12, choices=[(kind, kind) for kind in JOB_KINDS])
    check_id = models.CharField(max_length=40, blank=True)
    revision = models.ForeignKey("board.Revision", on_delete=models.CASCADE, null=True, blank=True, related_name="jobs")
    sheet = models.ForeignKey("board.Sheet", on_delete=models.CASCADE, null=True, blank=True, related_name="jobs")
    reference = models.ForeignKey("board.Reference", on_delete=models.CASCADE, null=True, blank=True, related_name="jobs")
    underlay = models.ForeignKey("board.Underlay", on_delete=models.CASCADE, null=True, blank=True, related_name="jobs")
    review_sheet = models.ForeignKey("board.ReviewSheet", on_delete=models.CASCADE, null=True, blank=True, related_name="jobs")
    # {"version": …, "tolerances": {…}, "panels": […], …}: all that the answer depends on, and its digest
    inputs = models.JSONField(default=dict)
    digest = models.CharField(max_length=64)
    key = models.CharField(max_length=100, unique=True)  # kind, check and subject: "check/perspective/revision/12"
    state = models.CharField(max_length=12, choices=[(s, s) for s in JOB_STATES], default=QUEUED)
    reason = models.CharField(max_length=500, blank=True)
    numbers = models.JSONField(default=dict, blank=True)
    # What `numbers` were made from and how that ended: {"digest", "state", "reason", "started_at", "finished_at", "seconds"}. Empty
    # where it is to be done anew in any case.
    answered = models.JSONField(default=dict, blank=True, encoder=DjangoJSONEncoder)
    tries = models.PositiveIntegerField(default=0)
    claim = models.CharField(max_length=32, blank=True)
    queued_at = models.DateTimeField()
    sent_at = models.DateTimeField(null=True, blank=True)
    started_at = models.DateTimeField(null=True, blank=True)
    heartbeat_at = models.DateTimeField(null=True, blank=True)
    finished_at = models.DateTimeField(null=True, blank=True)
    seconds = models.FloatField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["state", "queued_at"])]

    def __str__(self) -> str:
        return f"{self.kind} {self.check_id}".strip()

    @property
    def label(self) -> str:
        return self.check_id or self.kind
