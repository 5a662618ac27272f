"""Heights hung on the eye level: whoever stands on the level ground is cut by it at the height of the viewer's eye."""

import numpy as np


def height_from_eye_level(foot: np.ndarray, top: np.ndarray, horizon: np.ndarray, eye_height: float,
                          upright_vp: np.ndarray | None = None) -> float:
    """Height of what stands on the ground from `foot` to `top`, in the unit of `eye_height`.

    foot, top (2,) px; horizon (a, b, c) with a x + b y + c = 0; upright_vp (3,) homogeneous point where uprights meet, None where
    they are drawn parallel (a level camera). Exact for an upright on level ground: the cross-ratio of foot, top, the eye level's
    crossing and the upright vanishing point (Criminisi, Reid and Zisserman, Single View Metrology, 2000).
    Raises ValueError where no height can be read: the foot or the upright vanishing point stands on the eye level, or the upright
    vanishing point between foot and top, so that the top would be behind the viewer.
    """
    foot, top = np.asarray(foot, float), np.asarray(top, float)
    horizon = np.asarray(horizon, float) / np.hypot(*np.asarray(horizon, float)[:2])
    below, above = horizon @ [*foot, 1.0], horizon @ [*top, 1.0]
    if abs(below) < 1e-9:
        raise ValueError("The foot stands on the eye level: its distance, and so its height, cannot be read.")
    if upright_vp is None:
        return float(eye_height * (below - above) / below)
    vx, vy, vw = np.asarray(upright_vp, float)
    meeting = horizon @ [vx, vy, vw]
    if abs(meeting) < 1e-12 * np.hypot(np.hypot(vx, vy), vw):
        raise ValueError("The uprights meet on the eye level: no height can be read.")
    # Along the upright, positions are told by their distance from the vanishing point, which scales each distance to the eye level.
    foot_to_vp, top_to_vp = (np.array([vx - vw * x, vy - vw * y]) for x, y in (foot, top))
    reach_foot, reach_top = np.hypot(*foot_to_vp), np.hypot(*top_to_vp)
    if reach_foot * reach_top == 0:
        raise ValueError("The foot or the top stands on the upright vanishing point: no height can be read.")
    if foot_to_vp @ top_to_vp < 0:
        raise ValueError("The uprights meet between foot and top: the top would be behind the viewer, and no height can be read.")
    return float(eye_height * (1 - above / below * reach_foot / reach_top))


def top_from_height(foot: np.ndarray, height: float, horizon: np.ndarray, eye_height: float,
                    upright_vp: np.ndarray | None = None) -> np.ndarray:
    """(2,) px where the top of an upright of this height stands over `foot`. Inverse of `height_from_eye_level`; same errors."""
    foot = np.asarray(foot, float)
    horizon = np.asarray(horizon, float) / np.hypot(*np.asarray(horizon, float)[:2])
    below = horizon @ [*foot, 1.0]
    if upright_vp is None:
        return foot - horizon[:2] * below * height / eye_height
    v = np.asarray(upright_vp, float)
    meeting = horizon @ v
    if abs(meeting) < 1e-12 * np.linalg.norm(v) or abs(below) < 1e-9:
        raise ValueError("The foot or the upright vanishing point stands on the eye level: no height can be drawn.")
    # The projection of foot + height along the upright: foot + s v, with s fixed by where the eye level cuts the post.
    top = np.array([*foot, 1.0]) - v * (below / meeting) * (height / eye_height)
    if top[2] <= 0:
        raise ValueError("A post of this height would reach past the viewer: its top cannot be drawn.")
    return top[:2] / top[2]
