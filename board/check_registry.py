"""The checks, one line each. A new check is a file in `page_checks/` and a line here; only names: the web side needs no NumPy."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from importlib import import_module
from typing import Any

ALL_STAGES = ("thumbnail", "pencil", "final")


@dataclass(frozen=True)
class CheckEntry:
    id: str
    label: str
    stages: tuple[str, ...]
    after: tuple[str, ...]
    path: str  # "package.module:function"
    version: int  # raise it when the answers change: earlier results are then measured again
    findings: Mapping[str, str]  # id of a finding -> what people call it
    tolerances: Mapping[str, float] = field(default_factory=dict)  # defaults; a board may set its own
    needs_figures: bool = False  # runs only where somebody marked figures
    informs: frozenset[str] = frozenset()  # findings that tell of something good to know, and ask for nothing
    needs_prints: bool = False  # compares with panels that were drawn before
    needs_same_as: bool = False  # runs only where somebody declared a panel the same as another
    needs_still: bool = False  # runs only where somebody placed a still under a panel
    needs_awaited: bool = False  # runs only where the page should have panels that a picture of it has not
    needs_bound_side: bool = False  # asks at which side the page is bound

    @property
    def waits_to_be_asked(self) -> bool:
        """Nobody waits for it on a page where nothing was tied and nothing is missing."""
        return self.needs_same_as or self.needs_still or self.needs_awaited

    def load(self) -> Callable[..., Any]:
        module, function = self.path.split(":")
        return getattr(import_module(module), function)


CHECKS: dict[str, CheckEntry] = {
    entry.id: entry
    for entry in (
        CheckEntry("panels", "Panels and reading order", ALL_STAGES, (), "board.page_checks.panels:check", 18,
                   {"order-doubtful": "Reading order in doubt", "one-panel": "Panels may have run together"}),
        CheckEntry("panels-there", "Panels all there", ALL_STAGES, ("panels",), "board.page_checks.panels_there:check", 2,
                   {"panel-missing": "Panel not on the picture"}, needs_awaited=True),
        CheckEntry("perspective", "Perspective", ALL_STAGES, ("panels",), "board.page_checks.perspective:check", 12,
                   {"eye-level-split": "Two eye levels", "stray-edge": "Edge off its vanishing point",
                    "upright-lean": "Upright that leans", "outside-cone": "Outside the cone of vision"},
                   {"stray_edge_deg": 4.0, "eye_level_split": 0.06, "outside_cone_deg": 10.0}),
        CheckEntry("heights", "Heights of figures", ALL_STAGES, ("panels", "perspective"), "board.page_checks.heights:check", 8,
                   {"height-off": "Height off"}, {"height_off": 0.07, "click": 0.015}, needs_figures=True),
        CheckEntry("proportions", "Proportions of figures", ALL_STAGES, ("panels", "perspective"),
                   "board.page_checks.proportions:check", 7,
                   {"heads-off": "Head count off", "segment-off": "Proportion off", "off-model-trend": "Drift from page to page"},
                   {"heads_off": 0.5, "segment_off": 0.05, "trend_heads": 0.5, "click": 0.015}, needs_figures=True),
        CheckEntry("same-as", "Same-as panels", ALL_STAGES, ("panels",), "board.page_checks.same_as:check", 3,
                   {"same-as-drift": "Shared background slipped"},
                   {"same_as_shift": 0.007, "same_as_scale": 0.012, "same_as_turn_deg": 0.6}, needs_same_as=True),
        CheckEntry("still", "Panels against their stills", ALL_STAGES, ("panels", "perspective"),
                   "board.page_checks.still:check", 5, {"still-mismatch": "Drawn otherwise than its still"},
                   {"still_edge_deg": 3.0, "still_eye_level": 0.04, "still_place": 0.03}, needs_still=True),
        CheckEntry("reuse", "Drawings used again", ALL_STAGES, ("panels",), "board.page_checks.reuse:check", 6,
                   {"reuse-found": "Drawn before"}, informs=frozenset({"reuse-found"}), needs_prints=True),
        CheckEntry("print-size", "Print size", ("final",), ("panels",), "board.page_checks.print_size:check", 3,
                   {"resolution-low": "Too few pixels for print", "near-trim": "Too near the trim",
                    "no-bleed": "Runs off the page without bleed"},
                   {"least_dpi": 300.0, "near_trim_mm": 0.0}, needs_bound_side=True),
    )
}


INFORMING = frozenset(kind for entry in CHECKS.values() for kind in entry.informs)


def checks_for(stage: str) -> list[CheckEntry]:
    """The checks of a stage, each after those it names in `after`."""
    ordered: list[CheckEntry] = []
    waiting = [entry for entry in CHECKS.values() if stage in entry.stages]
    while waiting:
        done = {entry.id for entry in ordered}
        ids = {entry.id for entry in waiting}
        ready = [entry for entry in waiting if not (set(entry.after) & ids - done)]
        if not ready:
            raise ValueError(f"These checks wait for each other: {', '.join(sorted(ids))}")
        ordered += ready
        waiting = [entry for entry in waiting if entry not in ready]
    return ordered


def is_built_on(check: str) -> bool:
    """Whether another check waits for this one's numbers."""
    return any(check in entry.after for entry in CHECKS.values())


def label_of_finding(finding: str) -> str:
    return next((entry.findings[finding] for entry in CHECKS.values() if finding in entry.findings), finding)


def with_what_they_build_on(checks: Iterable[str]) -> set[str]:
    """The checks named and all that they come after; panels are found always, since everything lies on them."""
    wanted, waiting = {"panels"}, list(checks)
    while waiting:
        check = waiting.pop()
        if check not in wanted:
            wanted.add(check)
            waiting += CHECKS[check].after
    return wanted
