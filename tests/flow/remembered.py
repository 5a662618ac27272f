"""A measurement made once for the same arguments: these tests upload the same few drawings again and again."""

import hashlib
import pickle
from collections.abc import Callable
from functools import wraps
from typing import Any

_KEPT: dict[tuple[str, str], bytes] = {}


def remembered(function: Callable[..., Any]) -> Callable[..., Any]:
    """The same function, which looks at the same pictures once only; each caller gets a copy of its own."""

    @wraps(function)
    def answer(*args: Any, **options: Any) -> Any:
        key = function.__qualname__, hashlib.sha256(pickle.dumps((args, options))).hexdigest()
        if key not in _KEPT:
            _KEPT[key] = pickle.dumps(function(*args, **options))
        return pickle.loads(_KEPT[key])

    return answer
