"""How large an upload may be, before anything of it is decoded."""

from dataclasses import dataclass


@dataclass(frozen=True)
class UploadLimits:
    most_bytes: int = 200 * 1024 * 1024
    longest_side_px: int = 30_000
    most_pixels: int = 120_000_000
    most_frames: int = 1
