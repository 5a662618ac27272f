#!/usr/bin/env python
"""Django's command line for Underblue."""

import os
import sys

if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "board.settings")
    # What is measured here is many small systems of equations: more threads only wait for one another.
    for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
        os.environ.setdefault(name, "1")
    from django.core.management import execute_from_command_line

    execute_from_command_line(sys.argv)
