"""The three stages of a page, in the order they are drawn."""

STAGES = ("thumbnail", "pencil", "final")


def stage_after(stage: str) -> str | None:
    """The next stage, or None after the final."""
    place = STAGES.index(stage) + 1
    return STAGES[place] if place < len(STAGES) else None


def stages_up_to(stage: str) -> tuple[str, ...]:
    return STAGES[: STAGES.index(stage) + 1]
