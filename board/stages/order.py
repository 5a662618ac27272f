"""The three stages of a page, in the order they are drawn."""

from collections.abc import Collection

STAGES = ("thumbnail", "pencil", "final")


def stage_after(stage: str) -> str | None:
    """The next stage, or None after the final."""
    place = STAGES.index(stage) + 1
    return STAGES[place] if place < len(STAGES) else None


def stage_by_pictures(stage: str, drawn: Collection[str]) -> str:
    """Where a page that was put at `stage` stands: there, or, where nothing is drawn at it, at the next one that is drawn.

    A page may begin with a pencil, or leave it out.
    """
    return next((one for one in STAGES[STAGES.index(stage) :] if one in drawn), stage)


def stage_on_its_own(stage: str, page_stage: str) -> str:
    """Where a panel goes on that is signed off at `stage`; "" where it is with its page again."""
    return STAGES[STAGES.index(stage) + 1] if STAGES.index(stage) < STAGES.index(page_stage) else ""


def stages_up_to(stage: str) -> tuple[str, ...]:
    return STAGES[: STAGES.index(stage) + 1]
