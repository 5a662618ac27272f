"""Runs the benches and holds every number to its bar: `python -m tests.bench [--long] [--only PART]`.

Data from outside the project is found by the environment variable UNDERBLUE_DATA (folders pages, stages, york); without it those
rows are left out, and this is said.
"""

import argparse
import json
import os
import sys
import time
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import cv2

from tests.bench import (
    drawn_comic,
    drawn_lines,
    exact_heights,
    page_faults,
    proposals,
    real_panels,
    real_perspective,
    real_stages,
    registration_drawn,
    room,
    same_as,
    seeded_faults,
    speed,
    still_faults,
    stills,
    york,
)
from tests.bench.rows import Row

# As manage.py and the worker have it, and the benches measure: more threads of NumPy's only wait for one another.
ONE_THREAD = {"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
OUT = Path(".bench") / "latest.json"
# Each with the folder that it needs.
ON_DATA = {"york": (york.rows, "york"), "pages": (real_panels.rows, "pages"), "page-perspective": (real_perspective.rows, "pages"),
           "stages": (real_stages.rows, "stages")}


def all_rows(is_long: bool, only: set[str]) -> Iterator[Row]:
    parts = {
        "lines": lambda: drawn_lines.rows(is_long=is_long),
        "speed": speed.rows,
        "heights": exact_heights.rows,
        "drawn": lambda: drawn_comic.rows(is_long=is_long),
        "registration": lambda: registration_drawn.rows(is_long=is_long),
        "page-faults": lambda: page_faults.rows(is_long=is_long),
        "faults": lambda: seeded_faults.rows(is_long=is_long),
        "same-as": lambda: same_as.rows(is_long=is_long),
        **{name: partial(_on_data, *needs) for name, needs in ON_DATA.items()},
    }
    # The bounded run has no time for these; asked for by name they run as in it.
    more = {
        "room": room.rows,
        "proposals": lambda: proposals.rows(is_long=is_long),
        "stills": lambda: stills.rows(is_long=is_long),
        "still-faults": lambda: still_faults.rows(is_long=is_long),
    }
    for name, rows in {**parts, **more}.items():
        if name in only or (not only and (is_long or name in parts)):
            started, worked = time.perf_counter(), _cpu_seconds()
            yield from rows()
            print(f"({name}: {time.perf_counter() - started:.0f} s, of all processors {_cpu_seconds() - worked:.0f} s)", flush=True)


def _on_data(rows: Callable[[Path], Iterator[Row]], folder: str) -> Iterator[Row]:
    data = os.environ.get("UNDERBLUE_DATA")
    if data and (Path(data) / folder).is_dir():
        yield from rows(Path(data))
    else:
        print(f"(left out: no folder {folder} in UNDERBLUE_DATA)")


def _cpu_seconds() -> float:
    return sum(os.times()[:4])


def main() -> None:
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--long", action="store_true", help="more seeds, up to an hour")
    arguments.add_argument("--only", action="append", default=[], metavar="PART", help="one part; may be given several times")
    chosen = arguments.parse_args()
    if not ONE_THREAD.keys() <= os.environ.keys():  # NumPy, loaded by now, asked for them as it came
        os.execve(sys.executable, [sys.executable, "-m", "tests.bench", *sys.argv[1:]], {**os.environ, **ONE_THREAD})
    cv2.setNumThreads(1)
    started, rows = time.perf_counter(), []
    for row in all_rows(chosen.long, set(chosen.only)):
        print(row.as_line(), flush=True)
        rows.append(row)
    OUT.parent.mkdir(exist_ok=True)
    OUT.write_text(json.dumps({"rows": [row.as_json() for row in rows]}, indent=1, ensure_ascii=False))
    missed = sum(row.holds is False for row in rows)
    print(f"{len(rows)} rows, {missed} bars missed, {time.perf_counter() - started:.0f} s; written to {OUT}")
    sys.exit(0)


if __name__ == "__main__":
    main()
