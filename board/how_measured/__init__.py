"""How each kind of finding is measured, told for who draws: one file per check, as in `page_checks/`.

Figures under `trust` are those of README's table, row by row; a test holds them to it.
"""

from board.how_measured import heights, panels, perspective, print_size, proportions, reuse, same_as, still
from board.how_measured.told import HowMeasured

HOW_MEASURED: dict[str, HowMeasured] = {
    **panels.TOLD, **perspective.TOLD, **heights.TOLD, **proportions.TOLD, **same_as.TOLD, **still.TOLD, **reuse.TOLD,
    **print_size.TOLD,
}
