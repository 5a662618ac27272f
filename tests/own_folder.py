"""A plugin: each process of the suite writes into a folder of its own, never into a board that someone works on."""

import atexit
import os
import shutil
import sys
import tempfile

# Data for the benches, and the folder that all processes of one run share: the first of them makes it, the others inherit it.
KEPT = ("UNDERBLUE_DATA", "UNDERBLUE_TESTS_DATABASE", "UNDERBLUE_TESTS_SHARED")
# Settings of the person who runs the suite would make it another suite.
NOT_OURS = [name for name in os.environ if name.startswith("UNDERBLUE_") and name not in KEPT]


def leave_no_trace(path: str, owner_pid: int) -> None:
    if os.getpid() == owner_pid:  # a forked child ends too, and the folder is not its
        shutil.rmtree(path, ignore_errors=True)


for name in (*NOT_OURS, "DATABASE_URL", "REDIS_URL"):
    os.environ.pop(name, None)
# A grown set-up's database, asked for by name: tests make and drop databases of their own beside it.
if database := os.environ.get("UNDERBLUE_TESTS_DATABASE"):
    os.environ["DATABASE_URL"] = database
# One thread each: the suite runs in as many processes as there are cores.
for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "OPENCV_FOR_THREADS_NUM"):
    os.environ.setdefault(name, "1")

# The suite starts many processes: where none may keep its bytecode, each compiles all modules anew.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

FOLDER = tempfile.mkdtemp(prefix="underblue-tests-")
atexit.register(leave_no_trace, FOLDER, os.getpid())
os.environ["UNDERBLUE_VAR"] = FOLDER
# An empty one would be the folder that the tests are started in.
os.environ["UNDERBLUE_TESTS_SHARED"] = os.environ.get("UNDERBLUE_TESTS_SHARED") or FOLDER
