from typing import Any

from django.db import models

from board.models.page import STAGE_CHOICES
from board.models.versioned import Versioned

AT_ONCE, AFTER_HAND_IN, TO_INSTRUCTOR = MEASURED_SHOWN = ("at-once", "after-hand-in", "to-instructor")
MEASURED_CHOICES = [(when, when) for when in MEASURED_SHOWN]


class Assignment(Versioned):
    """Work that a class is set. Each student gets a board of their own, made from it."""

    school_class = models.ForeignKey("board.SchoolClass", on_delete=models.CASCADE, related_name="assignments")
    title = models.CharField(max_length=200)
    brief = models.TextField(blank=True)
    page_count = models.PositiveIntegerField(default=1)
    reading = models.CharField(max_length=3, choices=[("ltr", "left to right"), ("rtl", "right to left")], default="ltr")
    is_bound = models.BooleanField(default=True)  # pages face each other; else each follows the one before
    trim_width_mm = models.FloatField(default=148)
    trim_height_mm = models.FloatField(default=210)
    bleed_mm = models.FloatField(default=3)
    safe_mm = models.FloatField(default=8)
    # Cast and set come from this board where they are given; else students make their own.
    model_board = models.ForeignKey("board.Board", on_delete=models.SET_NULL, null=True, blank=True, related_name="+")
    cast_is_given = models.BooleanField(default=False)
    set_is_given = models.BooleanField(default=False)
    # Ids of the checks that run; None: all.
    checks = models.JSONField(null=True, blank=True)
    own_tolerances = models.JSONField(default=dict, blank=True)
    measured_shown = models.CharField(max_length=14, choices=MEASURED_CHOICES, default=AT_ONCE)
    grace_minutes = models.PositiveIntegerField(default=0)  # after the deadline, and still not late
    late_days = models.PositiveIntegerField(null=True, blank=True)  # taken as late for so long; None: without end
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.title

    def board_fields(self) -> dict[str, Any]:
        """What each student's board takes over from it."""
        shared = ("reading", "is_bound", "trim_width_mm", "trim_height_mm", "bleed_mm", "safe_mm", "own_tolerances",
                  "measured_shown", "cast_is_given", "set_is_given")
        return {"title": self.title, **{name: getattr(self, name) for name in shared}}


class AssignmentStage(models.Model):
    """A stage that is asked for, and until when."""

    assignment = models.ForeignKey(Assignment, on_delete=models.CASCADE, related_name="stages")
    stage = models.CharField(max_length=10, choices=STAGE_CHOICES)
    due_at = models.DateTimeField()

    class Meta:
        ordering = ["due_at", "pk"]
        constraints = [models.UniqueConstraint(fields=["assignment", "stage"], name="one_deadline_per_stage")]

    def __str__(self) -> str:
        return f"{self.stage} of {self.assignment}"


class Criterion(models.Model):
    """One line of an assignment's rubric."""

    assignment = models.ForeignKey(Assignment, on_delete=models.CASCADE, related_name="criteria")
    order = models.PositiveIntegerField()
    title = models.CharField(max_length=120)
    asks = models.CharField(max_length=500, blank=True)

    class Meta:
        ordering = ["order", "pk"]
        verbose_name_plural = "criteria"

    def __str__(self) -> str:
        return self.title
