"""Points carried from an early stage of a page to its final, against points checked by hand; OpenCV's own ways beside ours.

Each pair is run as it is, and three times disturbed as a scan would be: turned by up to 3°, scaled by 0.9-1.08, shifted by up to
3 %, slightly keystoned, unevenly lit, its margin cut or grey. Errors are in percent of the page's diagonal.
"""

import json
import zlib
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

import cv2
import numpy as np

from board.vision.page_registration import register_pages
from tests.bench.rows import Row, at_least, at_most

Carry = Callable[[np.ndarray], np.ndarray]
TRIALS = 3


def rows(data: Path, seed: int = 0) -> Iterator[Row]:
    pairs = {
        name: pair for name, pair in sorted(json.loads((data / "stages" / "stages.json").read_text()).items())
        if pair["group"] == "same" and pair.get("points")
    }
    for label, trials in (("as they are", 1), ("as scans", TRIALS)):
        errors = all_errors(data, pairs, trials, seed, ours)
        yield at_least(f"Stage pairs, {label}: points within 0.5 %", 100 * np.mean(errors <= 0.5), 97, "%")
        yield at_least(f"Stage pairs, {label}: points within 2 %", 100 * np.mean(errors <= 2), 99, "%")
        yield at_most(f"Stage pairs, {label}: median", float(np.median(errors)), 0.08, "%")
    for name, carry in (("ORB + RANSAC", orb), ("ECC", ecc)):
        errors = all_errors(data, pairs, 1, seed, carry, disturb=True)
        yield Row(f"Stage pairs, as scans: OpenCV {name} within 0.5 %", 100 * np.mean(errors <= 0.5), "%")


def all_errors(
    data: Path, pairs: dict, trials: int, seed: int, method: Callable[[np.ndarray, np.ndarray], Carry], disturb: bool | None = None
) -> np.ndarray:
    is_disturbed = disturb if disturb is not None else trials > 1
    ask = partial(errors_of_trial, data, seed if is_disturbed else None, method)
    with ProcessPoolExecutor(2, initializer=cv2.setNumThreads, initargs=(1,)) as pool:
        asked = [(one, trial) for one in pairs.items() for trial in range(trials)]
        return np.concatenate(list(pool.map(ask, *zip(*asked, strict=True))))


def errors_of_trial(
    data: Path, seed: int | None, method: Callable[[np.ndarray, np.ndarray], Carry], one: tuple[str, dict], trial: int
) -> np.ndarray:
    """As it is where `seed` is None."""
    name, pair = one
    before, after = (cv2.imread(str(data / "stages" / pair[k]), cv2.IMREAD_GRAYSCALE) for k in ("before", "after"))
    points = [point for point in pair["points"] if not point.get("redrawn")]
    p, q = (np.array([point[k] for point in points], float) for k in ("before", "after"))
    if seed is None:
        return errors_of(before, after, p, q, method)
    sheet, H_sheet_to_scan = disturbed(before, name, trial, seed)
    return errors_of(sheet, after, mapped(H_sheet_to_scan, p), q, method)


def errors_of(before: np.ndarray, after: np.ndarray, p: np.ndarray, q: np.ndarray, method: Callable) -> np.ndarray:
    seen = (p >= 0).all(1) & (p < before.shape[::-1]).all(1)
    try:
        got = np.asarray(method(before, after)(p), float)
    except cv2.error:  # OpenCV's own ways give up on some pairs
        got = np.full_like(q, 1e6)
    return (100 * np.hypot(*(got - q).T) / np.hypot(*after.shape))[seen]


def disturbed(gray: np.ndarray, name: str, trial: int, seed: int) -> tuple[np.ndarray, np.ndarray]:
    """The picture as a careless scan of it, and `H_sheet_to_scan` (3, 3)."""
    rng = np.random.default_rng([zlib.crc32(name.encode()), trial, seed])
    h, w = gray.shape
    angle, scale = np.radians(rng.uniform(-3, 3)), rng.uniform(0.9, 1.08)
    c, d = scale * np.cos(angle), scale * np.sin(angle)
    to_middle = np.array([[1, 0, -w / 2], [0, 1, -h / 2], [0, 0, 1.0]])
    shift = w / 2 + rng.uniform(-0.03, 0.03) * w, h / 2 + rng.uniform(-0.03, 0.03) * h
    back = np.array([[1, 0, shift[0]], [0, 1, shift[1]], [0, 0, 1.0]])
    keystone = np.array([[1, 0, 0], [0, 1, 0], [*(rng.uniform(-0.02, 0.02, 2) / [w, h]), 1.0]])
    H_sheet_to_scan = back @ keystone @ np.array([[c, -d, 0], [d, c, 0], [0, 0, 1.0]]) @ to_middle
    margin = int(rng.choice([120, 200, 235, 255]))
    scan = cv2.warpPerspective(gray, H_sheet_to_scan, (w, h), flags=cv2.INTER_AREA, borderValue=margin)
    shade = np.linspace(1, rng.uniform(0.7, 0.95), w)[None, :] * np.linspace(rng.uniform(0.8, 1), 1, h)[:, None]
    return (scan * shade).astype(np.uint8), H_sheet_to_scan


def mapped(H: np.ndarray, points: np.ndarray) -> np.ndarray:
    return cv2.perspectiveTransform(points[None], H)[0]


def ours(before: np.ndarray, after: np.ndarray) -> Carry:
    return register_pages(before, after).map_points


def orb(before: np.ndarray, after: np.ndarray) -> Carry:
    detector = cv2.ORB_create(4000)
    (ka, da), (kb, db) = (detector.detectAndCompute(gray, None) for gray in (before, after))
    matches = cv2.BFMatcher(cv2.NORM_HAMMING, crossCheck=True).match(da, db)
    H, _ = cv2.findHomography(
        np.float32([ka[m.queryIdx].pt for m in matches]), np.float32([kb[m.trainIdx].pt for m in matches]), cv2.RANSAC, 4
    )
    return lambda p: mapped(H, np.float64(p))


def ecc(before: np.ndarray, after: np.ndarray) -> Carry:
    quarter = 0.25
    a, b = (cv2.resize(gray, None, fx=quarter, fy=quarter, interpolation=cv2.INTER_AREA) for gray in (before, after))
    b = cv2.resize(b, (a.shape[1], a.shape[0]))
    _, A = cv2.findTransformECC(a, b, np.eye(2, 3, dtype=np.float32), cv2.MOTION_AFFINE, (3, 200, 1e-6), None, 5)
    A = A.astype(float)
    A[:, 2] /= quarter
    stretch = np.array([after.shape[1] / before.shape[1], after.shape[0] / before.shape[0]])
    return lambda p: (np.asarray(p) @ A[:, :2].T + A[:, 2]) * stretch
