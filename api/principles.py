"""A small drawing for each kind of finding: the principle behind it, at a glance."""

from django.templatetags.static import static

# A file of this name lies in static/principles/.
DRAWN = frozenset({
    "order-doubtful", "one-panel", "panel-missing", "eye-level-split", "stray-edge", "upright-lean", "height-off", "heads-off",
    "segment-off", "off-model-trend", "resolution-low", "near-trim", "no-bleed", "outside-cone", "same-as-drift", "reuse-found",
    "still-mismatch",
})


def principle_of(kind: str) -> str | None:
    return static(f"principles/{kind}.svg") if kind in DRAWN else None
