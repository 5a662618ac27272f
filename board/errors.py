"""What can go wrong, said so that people can act on it: each docstring is the message that is read."""

from inspect import getdoc
from math import ceil


class BoardError(Exception):
    """Something went wrong."""

    status = 400

    def __init__(self, message: str = "", **details: object) -> None:
        self.message = message or getdoc(type(self)) or ""
        self.details = details
        super().__init__(self.message)


class NotFound(BoardError):
    """There is nothing here, or it is not yours to see."""

    status = 404


class NotAllowed(BoardError):
    """Your roles on this board do not allow this."""

    status = 403


class WrongPassword(BoardError):
    """This is not your password."""

    status = 403


class StaleVersion(BoardError):
    """Someone changed this since you read it. Read it again, then send your change."""

    status = 412


class NotValid(BoardError):
    """Some of what you sent cannot be used."""

    status = 400


class AlreadyThere(BoardError):
    """This exists already."""

    status = 409


class MoveRefused(BoardError):
    """The page cannot move."""

    status = 409


class NotPossibleNow(BoardError):
    """This cannot be done in the state it is in."""

    status = 409


class MarksWouldGo(NotPossibleNow):
    """Marks would go with what is taken out of the rubric."""


class LaidAside(NotPossibleNow):
    """This page is laid aside. Bring it back first."""


class PictureRefused(BoardError):
    """This file cannot be taken as a picture."""

    status = 415


class PictureTooLarge(BoardError):
    """This file is too large."""

    status = 413


class TooManyTries(BoardError):
    """There were too many wrong tries."""

    status = 429

    def __init__(self, wait: float) -> None:
        self.wait = max(1, ceil(wait))  # s
        super().__init__(f"There were too many wrong tries. Try again in {self.wait} s.")


class KeyReused(BoardError):
    """This Idempotency-Key was used for another request. Choose a new one."""

    status = 422


class StillAtWork(BoardError):
    """The first request with this Idempotency-Key is still at work. Try again in a moment."""

    status = 409
