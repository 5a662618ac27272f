"""A child process that ends with its parent, even when the parent was killed and could not say so."""

import ctypes
import os
import signal
import sys
from collections.abc import Callable

PR_SET_PDEATHSIG = 1  # <linux/prctl.h>


def die_with_parent(parent_pid: int, death_signal: int = signal.SIGKILL) -> None:
    """Run in the child: ask the kernel for `death_signal` when the parent ends. Elsewhere than on Linux this does nothing."""
    if not sys.platform.startswith("linux"):
        return
    ctypes.CDLL(None, use_errno=True).prctl(PR_SET_PDEATHSIG, death_signal)
    if os.getppid() != parent_pid:  # it ended before we could ask
        os.kill(os.getpid(), death_signal)


def before_exec(death_signal: int = signal.SIGKILL) -> Callable[[], None]:
    """For `subprocess.Popen(preexec_fn=…)`: the wish outlives the exec."""
    parent_pid = os.getpid()
    return lambda: die_with_parent(parent_pid, death_signal)
