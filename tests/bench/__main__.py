"""Runs the benches and holds every number to its bar: `python -m tests.bench [--long]`.

Data from outside the project is found by the environment variable UNDERBLUE_DATA (folders pages, stages, york); without it those
rows are left out, and this is said.
"""

import argparse
import json
import os
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import cv2

from tests.bench import (
    drawn_comic,
    drawn_lines,
    exact_heights,
    page_faults,
    real_panels,
    real_stages,
    registration_drawn,
    same_as,
    seeded_faults,
    speed,
    york,
)
from tests.bench.rows import Row

OUT = Path(".bench") / "latest.json"
ON_DATA = {"york": york.rows, "pages": real_panels.rows, "stages": real_stages.rows}


def all_rows(is_long: bool) -> Iterator[Row]:
    yield from drawn_lines.rows(is_long=is_long)
    yield from speed.rows()
    yield from exact_heights.rows()
    yield from drawn_comic.rows(is_long=is_long)
    yield from registration_drawn.rows(is_long=is_long)
    yield from page_faults.rows(is_long=is_long)
    yield from seeded_faults.rows(is_long=is_long)
    yield from same_as.rows(is_long=is_long)
    folder = os.environ.get("UNDERBLUE_DATA")
    for name, rows in ON_DATA.items():
        if folder and (Path(folder) / name).is_dir():
            yield from rows(Path(folder))
        else:
            print(f"(left out: {name}, no such folder in UNDERBLUE_DATA)")


def main() -> None:
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--long", action="store_true", help="more seeds, up to an hour")
    is_long = arguments.parse_args().long
    cv2.setNumThreads(1)
    started, rows = time.perf_counter(), []
    for row in all_rows(is_long):
        print(row.as_line(), flush=True)
        rows.append(row)
    OUT.parent.mkdir(exist_ok=True)
    OUT.write_text(json.dumps({"rows": [row.as_json() for row in rows]}, indent=1, ensure_ascii=False))
    missed = sum(row.holds is False for row in rows)
    print(f"{len(rows)} rows, {missed} bars missed, {time.perf_counter() - started:.0f} s; written to {OUT}")
    sys.exit(0)


if __name__ == "__main__":
    main()
