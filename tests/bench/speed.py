"""Times, as ratios within one run where a bar is one: this machine's own speed falls out."""

import io
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial

import cv2
import numpy as np
from PIL import Image

from board.check_contract import CheckResult, Findings, PageUnderCheck, PanelUnderCheck
from board.page_checks import perspective
from board.page_format import FORMATS
from board.vision.panel_frames import find_panels
from fixtures.bench_pages import FIRST_BENCH_SEED, BenchPage, bench_pages, draw_bench_page
from fixtures.demo_plans import page_plans
from fixtures.marked_figures import markable_figures
from fixtures.page_drawing import draw_page
from tests.bench.rows import Row, at_most
from tests.bench.under_check import page_as_given, run_check

SIZE = (3300, 5100)


def rows() -> Iterator[Row]:
    image, panels = six_panels()
    gray = np.asarray(image.convert("L"))
    png = io.BytesIO()
    image.save(png, "PNG", compress_level=3)
    decode_s = median_s(lambda: Image.open(io.BytesIO(png.getvalue())).load())
    half = cv2.resize(gray, None, fx=0.5, fy=0.5, interpolation=cv2.INTER_AREA)
    lines_s = median_s(lambda: cv2.createLineSegmentDetector().detect(half))
    page = PageUnderCheck(gray, "final", FORMATS["a4"], panels=panels)
    check_s = median_s(lambda: perspective.check(page))
    yield at_most("Perspective check, by decoding plus one LSD pass at half scale", check_s / (decode_s + lines_s), 1.0)
    yield Row("Perspective check, 3300 × 5100 px, six panels", check_s, "s")
    yield at_most("Finding panels, 3300 × 5100 px", median_s(lambda: find_panels(gray)), 0.5, "s")
    yield from figure_rows()
    for name in ("page-01-final-2.png", "page-03-pencil.png", "page-07-thumbnail.png"):
        yield at_most(f"Drawing {name} with its truth", median_s(partial(draw_page, page_plans()[name])), 2.0, "s")


def figure_rows() -> Iterator[Row]:
    """Each check of marked figures, on a panel that shows several of them and its eye level."""
    pages = (page for page in bench_pages(None, 400, "pencil") if len(markable_figures(page.panel)) > 1)
    measured = (given for page in pages if is_measured(run_check("heights", given := with_eye_level(page))))
    given = next(measured, None)
    for name in ("heights", "proportions"):
        seconds = median_s(partial(run_check, name, given)) if given else float("nan")
        yield at_most(f"Check of {name}, marked figures of one panel", seconds, 0.3, "s")


def with_eye_level(page: BenchPage) -> PageUnderCheck:
    """What the perspective check hands on; nothing where it saw no eye level."""
    given = page_as_given(page)
    seen = run_check("perspective", given)
    return replace(given, earlier={"perspective": seen.numbers} if isinstance(seen, Findings) else {})


def is_measured(result: CheckResult) -> bool:
    return isinstance(result, Findings) and not result.not_measured


def six_panels() -> tuple[Image.Image, tuple[PanelUnderCheck, ...]]:
    """A page of 3300 × 5100 px with six drawn panels in two columns."""
    page, panels = Image.new("RGB", SIZE, "white"), []
    for i in range(6):
        drawn = next(d for seed in range(FIRST_BENCH_SEED + 20 * i, FIRST_BENCH_SEED + 20 * i + 20)
                     if (d := draw_bench_page(seed, "pencil")) is not None)
        panel = Image.fromarray(drawn.gray).resize((1500, 1560), Image.Resampling.LANCZOS)
        left, top = 100 + 1600 * (i % 2), 120 + 1650 * (i // 2)
        page.paste(panel, (left, top))
        box = (left / SIZE[0], top / SIZE[1], (left + 1500) / SIZE[0], (top + 1560) / SIZE[1])
        corners = ((box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3]))
        panels.append(PanelUnderCheck(i + 1, i + 1, corners))
    return page, tuple(panels)


def median_s(work: Callable[[], object], times: int = 3) -> float:
    seconds = []
    for _ in range(times):
        started = time.perf_counter()
        work()
        seconds.append(time.perf_counter() - started)
    return float(np.median(seconds))
