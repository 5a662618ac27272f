from django.conf import settings
from django.db import models

from board.models.versioned import Versioned

TONES = ("must", "try", "ask", "keep")
HELD, OPEN, ANSWERED, SETTLED, STET, GONE = NOTE_STATES = ("held", "open", "answered", "settled", "stet", "gone")
REGION, PAGE, SPREAD, BOARD = SCOPES = ("region", "page", "spread", "board")


class Note(Versioned):
    """A remark, by a person or by a check. A measured note has a `check` and no author.

    `gone` is the end of a measured note whose finding is no longer there; people's notes never get it.
    """

    board = models.ForeignKey("board.Board", on_delete=models.CASCADE, related_name="notes")
    page = models.ForeignKey("board.Page", on_delete=models.CASCADE, null=True, blank=True, related_name="notes")
    panel = models.ForeignKey("board.Panel", on_delete=models.SET_NULL, null=True, blank=True, related_name="notes")
    # The revision it was pinned on; where it stands on others is a `NotePlace`.
    revision = models.ForeignKey("board.Revision", on_delete=models.SET_NULL, null=True, blank=True, related_name="notes")
    scope = models.CharField(max_length=6, choices=[(s, s) for s in SCOPES], default=REGION)
    region = models.JSONField(null=True, blank=True)
    lines = models.JSONField(default=list, blank=True)  # drawn over the page: strokes and arrows, as `board.drawn_lines` has them
    tone = models.CharField(max_length=4, choices=[(t, t) for t in TONES], default="try")
    body = models.TextField()
    state = models.CharField(max_length=8, choices=[(s, s) for s in NOTE_STATES], default=OPEN)
    author = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="notes")
    # Of a classmate's critique: what stands for its writer. Such a note has no author, here or anywhere on the board.
    pen_name = models.CharField(max_length=60, blank=True)
    # That critique: by it, and by no name, its notes are found when its critic is named otherwise, or leaves. No answer tells it.
    critique = models.ForeignKey("board.Critique", on_delete=models.SET_NULL, null=True, blank=True, related_name="notes")
    criterion = models.ForeignKey("board.Criterion", on_delete=models.SET_NULL, null=True, blank=True, related_name="notes")
    check_id = models.CharField(max_length=40, blank=True)
    finding_kind = models.CharField(max_length=40, blank=True)
    # Of a measured one that its check could not look for again on the page's revision: why. It stays as it was.
    not_measured = models.CharField(max_length=500, blank=True)
    # Of a stet that came with its check leaving the panel alone, and of one that is gone: the state before, for when the panel is
    # measured again, or the same picture shows the fault again.
    state_before_left_alone = models.CharField(max_length=8, blank=True)
    created_at = models.DateTimeField(auto_now_add=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    closed_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+")
    closed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["page", "state"]), models.Index(fields=["board", "state"])]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(scope=BOARD) | models.Q(page__isnull=False), name="a_note_has_a_page_unless_it_is_on_the_board"
            )
        ]

    def __str__(self) -> str:
        return self.body[:40]

    @property
    def is_measured(self) -> bool:
        return bool(self.check_id)


class NotePlace(models.Model):
    """Where a note stands on a revision other than the one it was pinned on."""

    note = models.ForeignKey(Note, on_delete=models.CASCADE, related_name="places")
    revision = models.ForeignKey("board.Revision", on_delete=models.CASCADE, related_name="note_places")
    region = models.JSONField()
    lines = models.JSONField(default=list, blank=True)
    # "registered": carried by the picture itself; "panel": at the same place in its panel only
    placed_by = models.CharField(max_length=10, choices=[("registered", "registered"), ("panel", "panel"), ("hand", "hand")])
    quality = models.FloatField(default=0)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["note", "revision"], name="one_place_per_note_and_revision")]

    def __str__(self) -> str:
        return f"{self.note_id} on {self.revision_id}"


class Reply(models.Model):
    note = models.ForeignKey(Note, on_delete=models.CASCADE, related_name="replies")
    author = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    body = models.TextField()
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = "replies"

    def __str__(self) -> str:
        return self.body[:40]
