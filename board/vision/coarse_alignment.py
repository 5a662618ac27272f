"""Where one drawing lies on another, roughly: the turn, the scale and the shift that bring most edges together."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from itertools import product

import cv2
import numpy as np
from scipy import fft

from board.vision.edge_field import as_channels, as_field

# Search range: a sheet laid on a scanner by hand, a photograph, a crop, or a thumbnail with a wide margin.
TURNS_DEG = np.arange(-12, 12.1, 2.0)
SCALES = np.exp(np.arange(-0.88, 0.481, 0.04))
# Of all turns and scales, so many are looked at closely. On 12 scans of pages the best four are then those of all (own
# measurement).
CLOSELY = 60
# Of every second turn and scale, about so many of the likeliest those between are tried too.
ABOUT = 24


@dataclass(frozen=True)
class Placement:
    """One guess: `H_before_to_after` (3, 3) in pixel indices of the two fields, `likeness` their correlation there, 0..1."""

    H_before_to_after: np.ndarray
    likeness: float


def find_placements(before: np.ndarray, after: np.ndarray, most: int = 4) -> tuple[Placement, ...]:
    """The most likely similarity transforms between two small edge fields, best first.

    before, after: complex64 fields of about 100 to 160 px on the longer side. Turns and scales of a fixed set are tried and the
    shift is read from one Fourier correlation each, so nothing depends on where the search starts. Empty where a field is blank.
    """
    return Glance(before, after).placements(most)


class Glance:
    """How like two small edge fields are where one lies on the other, by every second turn and scale: a quarter of the work.

    Of two that are known to be `upright` only scales are looked at.
    """

    def __init__(self, before: np.ndarray, after: np.ndarray, *, upright: bool = False) -> None:
        self._before, self._target = before, _Target(after, int(np.hypot(*before.shape)) + max(after.shape))
        self._turned: dict[tuple[int, int], _Turned] = {}
        self._likeness: dict[tuple[int, int], float] = {}
        if np.any(after) and np.any(before):
            turns = [len(TURNS_DEG) // 2] if upright else range(0, len(TURNS_DEG), 2)
            self._look_at(product(turns, range(0, len(SCALES), 2)))

    @property
    def likeness(self) -> float:
        """About what the best of the placements comes to, 0..1."""
        return max(self._likeness.values(), default=0.0)

    def placements(self, most: int) -> tuple[Placement, ...]:
        """The likeliest, best first; the turns and scales between are looked at about the best of what was seen."""
        for turn, scale in self._likeliest(ABOUT):
            self._look_at(product(range(turn - 1, turn + 2), range(scale - 1, scale + 2)))
        guesses = [_best_shift(self._turned[at], self._target) for at in self._likeliest(CLOSELY)]
        return _distinct(sorted(guesses, key=lambda guess: -guess.likeness), self._before.shape, most)

    def _likeliest(self, count: int) -> list[tuple[int, int]]:
        return sorted(self._likeness, key=lambda at: -self._likeness[at])[:count]

    def _look_at(self, places: Iterable[tuple[int, int]]) -> None:
        for turn, scale in places:
            if (turn, scale) not in self._likeness and 0 <= turn < len(TURNS_DEG) and 0 <= scale < len(SCALES):
                turned = _turned(self._before, TURNS_DEG[turn], SCALES[scale])
                self._turned[turn, scale], self._likeness[turn, scale] = turned, self._target.roughly(turned)


@dataclass(frozen=True)
class _Turned:
    field: np.ndarray
    H_before_to_turned: np.ndarray

    @cached_property
    def energy(self) -> float:
        return float(np.vdot(self.field, self.field).real)


class _Target:
    """The field that others are laid on, with its spectrum at each size that was asked for."""

    def __init__(self, field: np.ndarray, most_px: int) -> None:
        self.field, self.most_px = field, most_px
        self.energy = float(np.vdot(field, field).real)
        self._spectra: dict[tuple[int, ...], np.ndarray] = {}

    def correlation(self, other: np.ndarray, size: tuple[int, ...]) -> np.ndarray:
        if size not in self._spectra:
            self._spectra[size] = fft.fft2(self.field, size)
        return fft.ifft2(np.conj(fft.fft2(other, size)) * self._spectra[size]).real

    def roughly(self, other: _Turned) -> float:
        """How like they are at the best shift where the fields wrap around: a quarter of the work, and seldom less than without."""
        pairs = zip(self.field.shape, other.field.shape, strict=True)
        size = tuple(fft.next_fast_len(max(pair)) for pair in pairs)
        return self.likeness(float(self.correlation(other.field, size).max()), other)

    def likeness(self, peak: float, other: _Turned) -> float:
        energy = self.energy * other.energy
        return peak / np.sqrt(energy) if energy else 0.0

    def size_with(self, other: np.ndarray) -> tuple[int, ...]:
        """Just large enough that no shift of the other field wraps around."""
        lengths = (a + b - 1 for a, b in zip(self.field.shape, other.shape, strict=True))
        return tuple(fft.next_fast_len(min(length, self.most_px)) for length in lengths)


def _best_shift(turned: _Turned, target: _Target) -> Placement:
    size = target.size_with(turned.field)
    correlation = target.correlation(turned.field, size)
    place = np.unravel_index(int(np.argmax(correlation)), size)
    # Past the end of the target, a place stands for a shift up or to the left.
    dy, dx = (at - length * (at >= reach) for at, length, reach in zip(place, size, target.field.shape, strict=True))
    H = np.array([[1, 0, dx], [0, 1, dy], [0, 0, 1.0]]) @ turned.H_before_to_turned
    return Placement(H, target.likeness(float(correlation[place]), turned))


def _turned(before: np.ndarray, turn_deg: float, scale: float) -> _Turned:
    """The field turned and scaled about its middle onto a canvas that just holds it."""
    h, w = before.shape
    c, s = scale * np.cos(np.radians(turn_deg)), scale * np.sin(np.radians(turn_deg))
    width, height = int(np.ceil(abs(c) * w + abs(s) * h)), int(np.ceil(abs(s) * w + abs(c) * h))
    mid = (np.array([w, h]) - 1) / 2
    offset = (np.array([width, height]) - 1) / 2 - np.array([[c, -s], [s, c]]) @ mid
    H = np.array([[c, -s, offset[0]], [s, c, offset[1]], [0, 0, 1.0]])
    turned = cv2.warpAffine(as_channels(before), H[:2], (width, height), flags=cv2.INTER_LINEAR)
    return _Turned(as_field(turned) * np.complex64(np.exp(2j * np.radians(turn_deg))), H)


def _distinct(guesses: list[Placement], shape: tuple[int, ...], most: int) -> tuple[Placement, ...]:
    """Drops guesses that place the corners almost like a better one."""
    h, w = shape
    corners = np.array([[[0, 0], [w, 0], [w, h], [0, h]]], float)
    kept: list[Placement] = []
    places: list[np.ndarray] = []
    for guess in guesses:
        place = cv2.perspectiveTransform(corners, guess.H_before_to_after)[0]
        if all(np.abs(place - other).max() > 0.08 * max(shape) for other in places):
            kept.append(guess)
            places.append(place)
        if len(kept) == most:
            break
    return tuple(kept)
