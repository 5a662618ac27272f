from django.conf import settings
from django.db import models

from board.models.versioned import Versioned

PROPOSED, CONFIRMED, REFUSED_FIGURE = PROPOSAL_STATES = ("proposed", "confirmed", "refused")
BY_SAME_AS, BY_REUSE, BY_AXIS = FOUND_BY = ("same-as", "reuse", "axis")


class FigureProposal(Versioned):
    """A figure marked in one panel that another panel seems to show again, or the same panel, drawn anew. Nothing is measured from
    it before a person confirms."""

    panel = models.ForeignKey("board.Panel", on_delete=models.CASCADE, related_name="figure_proposals")
    revision = models.ForeignKey("board.Revision", on_delete=models.CASCADE, related_name="figure_proposals")
    source = models.ForeignKey("board.Figure", on_delete=models.CASCADE, related_name="proposals")
    found_by = models.CharField(max_length=10, choices=[(how, how) for how in FOUND_BY])
    marks = models.JSONField(default=dict)  # as a `FigurePlace` has them
    doubts = models.JSONField(default=dict, blank=True)
    sure = models.FloatField(default=0.0)  # 0..1: how much of the figure lies there
    state = models.CharField(max_length=10, choices=[(state, state) for state in PROPOSAL_STATES], default=PROPOSED)
    figure = models.OneToOneField("board.Figure", on_delete=models.SET_NULL, null=True, blank=True, related_name="proposed_as")
    said_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+")

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["panel", "source"], name="one_proposal_per_panel_and_figure")]

    @property
    def became_id(self) -> int | None:
        """A figure that was mended is still the one that was marked before."""
        return self.source_id if self.found_by == BY_AXIS and self.state == CONFIRMED else self.figure_id

    def __str__(self) -> str:
        return f"{self.source.character} in {self.panel}: {self.state}"
