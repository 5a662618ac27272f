import fcntl
from typing import IO

from django.conf import settings
from django.core.management.base import CommandError


def only_one_here() -> IO[str]:
    """Two supervisors over one folder would fight over its broker. The lock is let go when this process ends, however it ends."""
    lock = (settings.VAR_DIR / "serve.lock").open("w")
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError as error:
        raise CommandError(f"Underblue is running already with the data in {settings.VAR_DIR}.") from error
    return lock
