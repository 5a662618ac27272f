"""The kinds of errors that the API answers with: for each, what it means and what to do about it, for who writes a program."""

from collections.abc import Iterator
from dataclasses import dataclass
from inspect import getdoc

from rest_framework import exceptions

from api.if_match import VersionNeeded
from api.problems import BodyTooLarge, Broken, MetAnotherChange, NoRoom, slug_of, title_of
from api.session_authentication import CsrfFailed
from api.tokens import WrongSignIn
from board import errors

# What those of the framework mean; the others say it themselves.
MEANINGS: dict[type[exceptions.APIException], str] = {
    exceptions.ValidationError: "Some of what you sent cannot be used: a field, a parameter of the address, or the two together.",
    exceptions.ParseError: "What you sent cannot be read: it is broken off, or not in the form that its Content-Type says.",
    exceptions.AuthenticationFailed: "The token that came with the request signs nobody in.",
    exceptions.NotAuthenticated: "This is for people who are signed in, and the request did not say who you are.",
    exceptions.PermissionDenied: "You are signed in, and this is still refused.",
    exceptions.NotFound: "There is nothing here, or it is not yours to see.",
    exceptions.MethodNotAllowed: "This address is there, but it does not take this method.",
    exceptions.NotAcceptable: "The answer is not to be had in any of the forms that Accept names.",
    exceptions.UnsupportedMediaType: "What you sent came in another form than this address takes.",
    exceptions.Throttled: "You asked too often.",
}
WHAT_TO_DO: dict[type[Exception], str] = {
    errors.NotFound: "Compare the address with those in the API’s description, and its numbers with what the lists answer. Then "
    "see whether the person your token speaks for has a seat on that board.",
    errors.NotAllowed: "Ask whoever runs the board for the role that it takes. “may” on a board says what you can do there.",
    errors.WrongPassword: "Send the password that you have now as “old”.",
    errors.StaleVersion: "Read the thing again; “current” is its ETag now. Make your change on what you read, and send it with "
    "that ETag in If-Match.",
    errors.NotValid: "“detail” and “errors” say what it is. Put it right and send it again.",
    errors.AlreadyThere: "Use the one that is there, or send other words.",
    errors.MoveRefused: "“code” and “detail” say what stands against it; GET on the same address lists it for every move.",
    errors.NotPossibleNow: "Read the thing again to see how it stands; “detail” says what has to come first.",
    errors.MarksWouldGo: "Name all lines of the rubric by their ids, those that are to stay as they are too. To take one out with "
    "all its marks, send “drops_marks”: true along.",
    errors.LaidAside: "DELETE /api/v1/pages/{id}/laid-aside brings the page back into its comic.",
    errors.PictureRefused: "“detail” says what is the matter with the file. Send a PNG, JPEG, WebP, TIFF or OpenRaster.",
    errors.PictureTooLarge: "Send a smaller file: “detail” says how large it may be.",
    errors.TooManyTries: "Wait as many seconds as the header Retry-After says. Until then the right password is not taken either.",
    errors.KeyReused: "A key stands for one request. Choose a new one for another request.",
    errors.StillAtWork: "Wait a moment and send the same request with the same key: you get the answer of the first.",
    VersionNeeded: "Read the thing that “detail” names, and send the ETag that came with it in If-Match. * stands for any version, "
    "and may write over what somebody else has just done.",
    WrongSignIn: "Mind capitals and spaces in name and password. Who forgot theirs gets another from whoever runs this server.",
    BodyTooLarge: "Send less at a time.",
    MetAnotherChange: "Send the same request again. If it is refused again, read the thing first.",
    NoRoom: "Send it again when there is room. An upload that was broken off by this left nothing behind.",
    Broken: "It is not your doing. Before you send a change again, look whether it was made: it may have broken while the answer "
    "was written. Tell whoever runs this server when it was: what happened stands in its log.",
    exceptions.ValidationError: "“errors” names each field or parameter with what is the matter. Put it right and send it again.",
    exceptions.ParseError: "Check what your program really sends: quotes and commas in JSON; in a form the boundary, which "
    "whatever makes the form writes into Content-Type itself.",
    exceptions.AuthenticationFailed: "Send it as “Authorization: Bearer TOKEN”. If it was taken back, or the password was changed "
    "since, POST /api/v1/tokens gives another.",
    exceptions.NotAuthenticated: "Send a token as “Authorization: Bearer TOKEN”. POST /api/v1/tokens gives one for your password.",
    exceptions.PermissionDenied: "Ask whoever runs the board for the role that it takes.",
    CsrfFailed: "In a browser, send the header X-CSRFToken with every write, or load the page again: at each sign-in there is "
    "another. A program is better off with a token.",
    exceptions.NotFound: "Compare the address with those in the API’s description.",
    exceptions.MethodNotAllowed: "The header Allow names the methods that there are.",
    exceptions.NotAcceptable: "Ask for application/json, or leave Accept out.",
    exceptions.UnsupportedMediaType: "“detail” says how to send it: pictures as multipart/form-data, all else as application/json.",
    exceptions.Throttled: "Wait as many seconds as the header Retry-After says.",
}


@dataclass(frozen=True)
class ProblemType:
    name: str  # the last word of its address
    title: str
    status: int
    meaning: str
    to_do: str


def problem_types() -> dict[str, ProblemType]:
    """By name: one for every class of error that there is. The framework's own "not found" is told as ours."""
    statuses = {kind: kind.status_code for kind in MEANINGS} | {kind: kind.status for kind in _kinds_of(errors.BoardError)}
    return {slug_of(kind): _told(kind, status) for kind, status in statuses.items()}


def _told(kind: type[Exception], status: int) -> ProblemType:
    meaning = MEANINGS[kind] if issubclass(kind, exceptions.APIException) else getdoc(kind) or ""
    return ProblemType(slug_of(kind), title_of(kind), status, meaning, WHAT_TO_DO[kind])


def _kinds_of(kind: type[errors.BoardError]) -> Iterator[type[errors.BoardError]]:
    for one in kind.__subclasses__():
        yield one
        yield from _kinds_of(one)
