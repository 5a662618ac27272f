"""A write that met another one. In PostgreSQL each may wait for what the other held: nothing of it is kept, and it is made anew."""

import random
import time
from collections.abc import Callable

from django.core.exceptions import ObjectDoesNotExist
from django.db import DatabaseError, connection
from rest_framework.request import Request
from rest_framework.response import Response

from board.actions.row_locks import is_deadlock

MOST_TRIES = 4
# Apart from the other one, so that they do not meet again. Own choice.
WAIT_SECONDS = 0.2


def after_deadlocks(
    read_anew: Callable[[], None], write: Callable[..., Response], request: Request, *args: object, **kwargs: object
) -> Response:
    """`read_anew`: what was read for it may carry what is no longer so. Raises the database's error after the last try."""
    for _ in range(MOST_TRIES - 1):
        try:
            return write(request, *args, **kwargs)
        except ObjectDoesNotExist:
            read_anew()  # says so where it was deleted meanwhile
            raise
        except DatabaseError as error:
            if not is_deadlock(error) or connection.in_atomic_block:
                raise
        time.sleep(random.uniform(0, WAIT_SECONDS))  # noqa: S311 (nothing is kept secret by it)
        for file in request.FILES.values():
            file.seek(0)
        read_anew()
    return write(request, *args, **kwargs)
