from django.conf import settings
from django.db import models

from board.models.page import STAGE_CHOICES
from board.models.versioned import Versioned

LEVELS = ("not yet", "on the way", "there", "beyond")


class Work(Versioned):
    """One student's work for one assignment: a board of their own. Its version counts how often it was marked."""

    assignment = models.ForeignKey("board.Assignment", on_delete=models.CASCADE, related_name="works")
    enrolment = models.ForeignKey("board.Enrolment", on_delete=models.CASCADE, related_name="works")
    board = models.OneToOneField("board.Board", on_delete=models.CASCADE, related_name="work")

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["assignment", "enrolment"], name="one_work_per_student")]

    def __str__(self) -> str:
        return f"{self.assignment}: {self.enrolment}"


class Extension(models.Model):
    """A later deadline for one student. Why is between them and the instructor, and not kept."""

    work = models.ForeignKey(Work, on_delete=models.CASCADE, related_name="extensions")
    stage = models.CharField(max_length=10, choices=STAGE_CHOICES)
    due_at = models.DateTimeField()

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["work", "stage"], name="one_extension_per_stage")]

    def __str__(self) -> str:
        return f"{self.stage} of {self.work} until {self.due_at:%Y-%m-%d}"


class RubricMark(models.Model):
    """How far a work has come by one criterion: a level in words, never a place among others; or a word on it alone."""

    work = models.ForeignKey(Work, on_delete=models.CASCADE, related_name="marks")
    criterion = models.ForeignKey("board.Criterion", on_delete=models.CASCADE, related_name="marks")
    level = models.PositiveSmallIntegerField(null=True)  # place in LEVELS; None: a word alone
    comment = models.TextField(blank=True)
    marked_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ["criterion__order", "pk"]
        constraints = [models.UniqueConstraint(fields=["work", "criterion"], name="one_mark_per_criterion")]

    def __str__(self) -> str:
        return f"{self.criterion}: {self.word or 'not marked'}"

    @property
    def word(self) -> str:
        """Of its level; empty where it has none."""
        return "" if self.level is None else LEVELS[self.level]
