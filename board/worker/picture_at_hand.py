"""The last picture that this process decoded, so that all the work on one revision needs one decode.

Only one is kept, and only until its revision's work is done: a page of 3300 × 5100 px takes 50 MB.
"""

from collections.abc import Callable, Hashable
from typing import Any

_at_hand: dict[Hashable, Any] = {}


def at_hand(key: Hashable, decode: Callable[[], Any]) -> Any:
    """What `decode` gives, from the last call if it was for the same key (a picture's SHA-256, say)."""
    if key not in _at_hand:
        _at_hand.clear()
        _at_hand[key] = decode()
    return _at_hand[key]


def put_away() -> None:
    _at_hand.clear()
