"""A ceiling for what one job may take, so that an ugly picture ends in a MemoryError and not in the machine's distress."""

import resource
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

OPENCV_NO_MEMORY = -4  # cv::Error::StsNoMem


@contextmanager
def memory_limit(most_mb: float) -> Iterator[None]:
    """Writable memory over and above what this process holds already.

    RLIMIT_DATA and not RLIMIT_AS: the latter also counts libraries and the space that allocators reserve and never touch, a
    gigabyte and more with NumPy and OpenCV loaded. Only Linux holds a process to it.
    """
    if not sys.platform.startswith("linux"):
        yield
        return
    before = resource.getrlimit(resource.RLIMIT_DATA)
    resource.setrlimit(resource.RLIMIT_DATA, (_held_bytes() + int(most_mb * 1024 * 1024), before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_DATA, before)


def _held_bytes() -> int:
    for line in Path("/proc/self/status").read_text().splitlines():
        if line.startswith("VmData:"):
            return int(line.split()[1]) * 1024
    raise OSError("/proc/self/status has no VmData line.")


def is_out_of_memory(error: BaseException) -> bool:
    """Python's own error, or OpenCV's, which is not a MemoryError and is told by its code."""
    return isinstance(error, MemoryError) or getattr(error, "code", None) == OPENCV_NO_MEMORY
