"""A panel of a few lines with a scribbled figure in it, which another seed scribbles otherwise."""

import cv2
import numpy as np

SIZE = (640, 520)  # width, height
CROWN, SOLE = np.array([300.0, 130.0]), np.array([300.0, 430.0])


def scribbled_panel(figure: int | None, waver_px: float = 0.0, seed: int = 1) -> np.ndarray:
    """uint8 (H, W); the set is the same each time, and so is the figure of one number, wavering by some px."""
    gray = np.full(SIZE[::-1], 248, np.uint8)
    rng = np.random.default_rng(7)
    for _ in range(26):
        draw(gray, rng.uniform(0, 1, (2, 2)) * SIZE, np.zeros((2, 2)))
    if figure is None:
        return gray
    cv2.rectangle(gray, (262, 120), (338, 436), 248, -1)
    rng, hand = np.random.default_rng(100 + figure), np.random.default_rng(seed)
    for top in range(125, 425, 25):
        for _ in range(3):
            points = np.column_stack([rng.uniform(268, 332, 4), rng.uniform(top, top + 30, 4)])
            draw(gray, points, hand.normal(0, waver_px, points.shape))
    return gray


def mended_panel(body: float, head: float, seed: int = 2) -> np.ndarray:
    """The set with figure 1 drawn anew by a hand that wavers: `body` times as large about its soles, its head `head` times as large
    about where its crown then is."""
    drawn, gray = scribbled_panel(1, 0.7, seed), scribbled_panel(1)
    cv2.rectangle(gray, (248, 60), (352, 436), 248, -1)
    crown = SOLE + body * (CROWN - SOLE)
    for grown, here, there, rows in ((body, SOLE, SOLE, slice(round(crown[1] + 0.17 * 300 * head), 437)),
                                     (head, CROWN, crown, slice(round(crown[1]) - 4, round(crown[1] + 0.17 * 300 * head)))):
        H = np.array([[grown, 0, there[0] - grown * here[0]], [0, grown, there[1] - grown * here[1]]])
        laid = cv2.warpAffine(drawn, H, SIZE, flags=cv2.INTER_LINEAR, borderValue=248)
        wide = round(34 * grown)
        gray[rows, 300 - wide : 301 + wide] = laid[rows, 300 - wide : 301 + wide]
    return gray


def draw(gray: np.ndarray, points: np.ndarray, waver: np.ndarray) -> None:
    cv2.polylines(gray, [np.round((points + waver) * 16).astype(np.int32)], False, 40, 2, cv2.LINE_AA, 4)
