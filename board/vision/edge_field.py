"""The edges of a drawing as a field of directions, the same for a pencil line, an inked line and the border of a painted shape."""

import cv2
import numpy as np

# Edges are weighed against what is usual around them, over this share of the picture's side (of a square as large): a faint
# pencil in a shaded corner counts as much as a black one. Common practice, no source.
NEIGHBOURHOOD = 1 / 13
# Grey steps per pixel that paper grain and compression make on their own; edges near it fade out of the field. It is told from the
# quiet quarter of the picture: where nothing is drawn, slopes are grain (a Rayleigh law puts their lower quartile at 0.76 sigma).
LEAST_GRAIN, GRAIN_PER_QUARTILE = 2.0, 5.0


def edge_field(gray: np.ndarray) -> np.ndarray:
    """The direction and strength of the edge at each pixel.

    gray: uint8 or float32 (H, W). Answers complex64 (H, W): the argument is twice the gradient's angle in image axes (x right,
    y down), so that both sides of a line and either sign of a step agree; the modulus is 0..1.
    Squared-gradient averaging follows Bigun and Granlund, "Optimal orientation detection of linear symmetry" (1987).
    """
    smooth = cv2.GaussianBlur(gray.astype(np.float32), (0, 0), 1.0)
    dx = cv2.Sobel(smooth, cv2.CV_32F, 1, 0, scale=1 / 8, borderType=cv2.BORDER_REPLICATE)
    dy = cv2.Sobel(smooth, cv2.CV_32F, 0, 1, scale=1 / 8, borderType=cv2.BORDER_REPLICATE)
    strength = cv2.magnitude(dx, dy)
    side = 2 * max(2, round(NEIGHBOURHOOD * np.sqrt(gray.size))) + 1
    usual = cv2.blur(cv2.blur(strength, (side, side)), (side, side))
    grain = max(LEAST_GRAIN, GRAIN_PER_QUARTILE * float(np.percentile(strength, 25)))
    # What weighs an edge, over its strength squared: the field is that times the squared gradient.
    usual += grain
    usual += strength
    share = 1 / (usual * np.maximum(strength, 1e-6))
    field = np.empty(gray.shape, np.complex64)
    field.real, field.imag = share * (dx + dy) * (dx - dy), 2 * share * dx * dy
    return field


def as_channels(field: np.ndarray) -> np.ndarray:
    """complex64 (H, W) -> float32 (H, W, 2), the form that OpenCV works on."""
    return np.ascontiguousarray(field).view(np.float32).reshape(*field.shape, 2)


def as_field(channels: np.ndarray) -> np.ndarray:
    """float32 (H, W, 2) -> complex64 (H, W)."""
    return np.ascontiguousarray(channels).view(np.complex64)[..., 0]
