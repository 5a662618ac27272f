"""How each kind of finding is measured, told for who draws: one file per check, as in `page_checks/`.

Figures under `trust` are those of README's table, row by row; a test holds them to it.
"""

from collections.abc import Iterable

from board.how_measured import heights, panels, panels_there, perspective, print_size, proportions, reuse, same_as, still
from board.how_measured.told import HowMeasured, Tolerance

HOW_MEASURED: dict[str, HowMeasured] = {
    **panels.TOLD, **panels_there.TOLD, **perspective.TOLD, **heights.TOLD, **proportions.TOLD, **same_as.TOLD, **still.TOLD,
    **reuse.TOLD, **print_size.TOLD,
}


def tolerances_told(kinds: Iterable[str]) -> dict[str, Tolerance]:
    """Name in the check registry -> how it is shown. Where several kinds of findings share one, the first tells it."""
    told: dict[str, Tolerance] = {}
    for kind in kinds:
        for name, tolerance in HOW_MEASURED[kind].tolerances.items():
            told.setdefault(name, tolerance)
    return told
