"""Where the broker's socket lies."""

import hashlib
import os
import tempfile
from pathlib import Path

# The kernel keeps a socket's path in 108 bytes on Linux and 104 on macOS, with the zero at its end.
LONGEST_SOCKET_PATH = 100
SOCKET_NAME = "broker.sock"


def run_folder(var_dir: Path) -> Path:
    """Beside the data; where that path is too long for a socket, a folder with a short name that only we may enter."""
    beside = var_dir.resolve() / "run"
    if len(os.fsencode(beside / SOCKET_NAME)) <= LONGEST_SOCKET_PATH:
        return beside
    name = hashlib.sha256(os.fsencode(beside)).hexdigest()[:12]
    return Path(tempfile.gettempdir()) / f"underblue-{os.getuid()}-{name}"


def make_run_folder(var_dir: Path) -> Path:
    folder = run_folder(var_dir)
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    if folder.stat().st_uid != os.getuid():
        raise PermissionError(f"{folder} belongs to someone else.")
    return folder


def socket_path(var_dir: Path) -> Path:
    return run_folder(var_dir) / SOCKET_NAME


def socket_url(var_dir: Path) -> str:
    return f"redis+socket://{socket_path(var_dir)}"
