"""What changed in each panel of a revision since the one before."""

from typing import Any

from board.models import Job
from board.models.comparison import PANEL_MATCHES, PANEL_WORDS

IDS = {"type": "array", "items": {"type": "integer"}}
SHARE = {"type": "number", "minimum": 0, "maximum": 1}
PANEL_CHANGE = {
    "type": "object",
    "properties": {
        "panel": {"type": "integer"},
        "word": {"type": "string", "enum": list(PANEL_WORDS)},
        "match": {"type": "string", "enum": list(PANEL_MATCHES), "description": "Which panel it was, told by the drawing."},
        "kept_before": {**SHARE, "description": "How much of the older drawing still stands."},
        "kept_after": {**SHARE, "description": "How much of the newer drawing was there before."},
        "stood_elsewhere": {"type": "boolean", "description": "It moved, and so far that its new place is another one."},
        "from": {**IDS, "description": "The panels that it was on the revision before."},
    },
    "required": ["panel", "word", "match", "kept_before", "kept_after", "from"],
}
CHANGES = {
    "type": ["object", "null"],
    "description": "Since the revision before. Null on a page's first revision, and until it is worked out.",
    "properties": {
        "before": {"type": "integer", "description": "The revision that it was compared with."},
        "panels": {"type": "array", "items": PANEL_CHANGE},
        "gone": {**IDS, "description": "Panels of the revision before that this one no longer has."},
    },
    "required": ["before", "panels", "gone"],
}


def changes_in(jobs: list[Job]) -> dict[str, Any] | None:
    """From the jobs of one revision."""
    numbers: dict[str, Any] = next((job.numbers for job in jobs if job.kind == "carry-notes"), {})
    return {name: numbers[name] for name in ("before", "panels", "gone")} if "panels" in numbers else None
