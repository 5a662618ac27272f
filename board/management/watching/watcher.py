"""One look after another: what is new and whole is matched to a page and sent, once."""

import hashlib
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import PurePosixPath
from typing import Any, Protocol

from board.management.watching import words
from board.management.watching.folder import Copy, Export, WatchedFolder, copied
from board.management.watching.memory import Memory
from board.management.watching.patience import Patience
from board.management.watching.server import Refused, TryLater, board_path
from board.management.watching.there import standing, there_already
from board.page_names import NameMatch, match_names, natural_key

ASK_AGAIN_SECONDS = 60.0  # whether a page was added that an export waits for
THE_SERVER = "the server"


class Talks(Protocol):
    def rows(self, path: str) -> Any: ...
    def read(self, path: str) -> Mapping[str, Any]: ...
    def upload(self, page: int, file: Any, size: int, name: str, fields: dict[str, str], key: str) -> Mapping[str, Any]: ...


@dataclass
class Told:
    """Counts for the last line."""

    sent: int = 0
    not_sent: set[str] = field(default_factory=set)


class Watcher:
    def __init__(
        self, server: Talks, board: int, folder: WatchedFolder, memory: Memory, say: Callable[[str], None], *,
        stage: str | None = None, sends: bool = True, clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self.server, self.board, self.folder, self.memory, self.say = server, board, folder, memory, say
        self.stage, self.sends, self.clock = stage, sends, clock
        self.told, self.patience = Told(), Patience(clock)
        self._done: set[tuple[str, object]] = set()
        self._unmatched: dict[str, NameMatch] = {}
        self._not_taken: set[str] = set()
        self._awaited: dict[int, str] = {}
        self._asked_at = clock()

    @property
    def waiting(self) -> set[str]:
        """What failed and is tried again."""
        return self.patience.names

    def look(self) -> None:
        exports = self.folder.look()
        self._tell_not_taken()
        fresh = [export for export in exports if (export.name, export.stamp) not in self._done]
        asks_again = self._unmatched and self.clock() - self._asked_at > ASK_AGAIN_SECONDS
        if not (fresh or asks_again or self._awaited) or not self.patience.may_try(THE_SERVER):
            return
        try:
            self._ask_about_sent()
            if fresh or asks_again:
                self._go_through(exports, fresh)
        except TryLater as trouble:
            wait = self.patience.failed(THE_SERVER, trouble.after_seconds)
            if self.patience.tries(THE_SERVER) == 1:
                self.say(f"{trouble} Tried again in {wait:.0f} s, and then later and later.")
        else:
            if self.patience.went_well(THE_SERVER):
                self.say("The server answers again.")

    def _tell_not_taken(self) -> None:
        """Once for each; where it is exported as a picture too, that is sent."""
        now = self.folder.not_taken | self.folder.unreadable
        for name in sorted(now - self._not_taken, key=natural_key):
            self.say(words.unreadable(name) if name in self.folder.unreadable else words.not_taken(name))
        self.told.not_sent = (self.told.not_sent - self._not_taken) | now
        self._not_taken |= now

    def pass_over(self) -> int:
        """What lies here now is not to be sent; how many those are."""
        exports = self.folder.look()
        self._not_taken |= self.folder.not_taken | self.folder.unreadable
        self._done |= {(export.name, export.stamp) for export in exports}
        return len(exports)

    def _go_through(self, exports: Sequence[Export], fresh: Sequence[Export]) -> None:
        self._asked_at = self.clock()
        pages = {page["id"]: page for page in self.server.rows(board_path(self.board))}
        matches = {match.name: match for match in self._match([export.name for export in exports], pages)}
        again = [export for export in exports if export.name in self._unmatched and export not in fresh]
        due = [export for export in [*fresh, *again] if self.patience.may_try(export.name)]
        as_sent = 0
        for export in sorted(due, key=lambda one: in_turn(one, matches[one.name], pages)):
            as_sent += self._take(export, matches[export.name], pages)
        if as_sent:
            self.say(f"{words.several(as_sent, 'picture')} here as sent before.")

    def _match(self, names: Sequence[str], pages: Mapping[int, Mapping]) -> list[NameMatch]:
        """What was sent from here under a name tells, and for the rest what anybody uploaded under it."""
        of_board = {page["current_revision"]["file_name"]: pk for pk, page in pages.items() if page["current_revision"]}
        by_base = {name: of_board[base] for name in names if (base := PurePosixPath(name).name) in of_board}
        numbers = {pk: page["numbers"] for pk, page in pages.items()}
        return match_names(names, numbers, {**by_base, **self.memory.pages_of_names})

    def _take(self, export: Export, match: NameMatch, pages: Mapping[int, Mapping]) -> bool:
        """Whether it is known already."""
        self._done.add((export.name, export.stamp))
        if match.page is None:
            if self._unmatched.get(export.name) != match:
                self.say(words.not_matched(match))
            self._unmatched[export.name] = match
            self.told.not_sent.add(export.name)
            return False
        self._unmatched.pop(export.name, None)
        with copied(export) as copy:
            if copy is None:  # still at work: the next look sees another stamp
                self._done.discard((export.name, export.stamp))
                return False
            target = target_of(match, self.stage, copy.sha256)
            before = self.memory.sent.get(target)
            if before and ("reason" in before or not self._was_saved_again(export, before)):
                return self._is_there(export, before)
            return self._send(export, match, pages[match.page], copy, target)

    def _was_saved_again(self, export: Export, before: Mapping[str, Any]) -> bool:
        """Since these very bytes were sent: they may be meant to be the page's picture once more."""
        had_others = any(name == export.name and stamp != export.stamp for name, stamp in self._done)
        return had_others or export.stamp.changed_ns > before.get("changed_ns", export.stamp.changed_ns)

    def _is_there(self, export: Export, before: Mapping[str, Any]) -> bool:
        if "reason" not in before:
            self.told.not_sent.discard(export.name)
            return True
        self.told.not_sent.add(export.name)
        self.say(f"{export.name}: not sent again, the server did not take this very picture. {before['reason']}")
        return False

    def _send(self, export: Export, match: NameMatch, page: Mapping, copy: Copy, target: str) -> bool:
        """Whether it is known already."""
        said = match.stage or self.stage
        known = target in self.memory.sent
        try:
            rows = list(self.server.rows(f"/pages/{page['id']}/revisions?limit=500"))
            there = there_already(rows, match.alternate or page["chosen_alternate"], said, copy.sha256)
            stands = standing(rows, there) if there else None
            if there and not (known and self._comes_back(export, there, stands)):
                return self._tell_there(export, page, target, there, stands)
            if not self.sends:
                self.say(f"{export.name}: would go to {words.page_words(page)}, {said or page['stage']}.")
                return False
            # Under the first key it would be answered as it was then.
            again = f" after {max((row['id'] for row in rows), default=0)}" if known else ""
            revision = self.server.upload(
                page["id"], copy.file, copy.size, PurePosixPath(export.name).name, fields_of(match, said or page["stage"]),
                key_of(self.board, export.name, said or page["stage"], target + again),
            )
        except Refused as refusal:
            self._refused(export, page, target, refusal)
        except TryLater as trouble:
            self._later(export, trouble)
        else:
            self.memory.remember(target, export.name, page["id"], revision=revision["id"], changed_ns=export.stamp.changed_ns)
            self._say_sent(export, page, revision)
        return False

    def _comes_back(self, export: Export, there: Mapping, stands: Mapping | None) -> bool:
        """Saved again, it takes the place of what the same file was since. What came from elsewhere is not overwritten."""
        return stands is None or stands["id"] != there["id"] and self.memory.name_of(stands["id"]) == export.name

    def _tell_there(self, export: Export, page: Mapping, target: str, there: Mapping, stands: Mapping | None) -> bool:
        known = target in self.memory.sent
        self.patience.went_well(export.name)
        self.told.not_sent.discard(export.name)
        self.memory.remember(target, export.name, page["id"], revision=there["id"], changed_ns=export.stamp.changed_ns)
        is_shown = stands is not None and stands["id"] == there["id"]
        if not (known and is_shown):
            self.say(words.is_there(export.name, page, there, None if is_shown else stands))
        return known and is_shown

    def _say_sent(self, export: Export, page: Mapping, revision: Mapping) -> None:
        self.patience.went_well(export.name)
        self.told.not_sent.discard(export.name)
        self.told.sent += 1
        self._awaited[revision["id"]] = export.name
        self.say(words.sent(export.name, page, revision))

    def _refused(self, export: Export, page: Mapping, target: str, refusal: Refused) -> None:
        self.told.not_sent.add(export.name)
        if refusal.status == 401:
            raise refusal
        self.patience.went_well(export.name)
        self.say(f"{export.name}: the server does not take it for {words.page_words(page)}. {refusal}")
        if refusal.status in (400, 413, 415):  # the picture itself; what one may not do today, one may tomorrow
            self.memory.remember(target, export.name, page["id"], reason=str(refusal))

    def _later(self, export: Export, trouble: TryLater) -> None:
        self._done.discard((export.name, export.stamp))
        self.told.not_sent.add(export.name)
        wait = self.patience.failed(export.name, trouble.after_seconds)
        self.say(f"{export.name}: not sent yet. {trouble} Tried again in {wait:.0f} s; it will arrive only once.")

    def _ask_about_sent(self) -> None:
        """Whether what was sent could be opened over there."""
        for number, name in list(self._awaited.items()):
            revision = self.server.read(f"/revisions/{number}")
            if revision["state"] == "refused":
                self.told.not_sent.add(name)
                self.memory.refuse(number, revision["reason"])
                self.say(f"{name}: arrived, but cannot be opened. {revision['reason']}")
            if revision["state"] != "received":
                del self._awaited[number]

    @property
    def awaits_opening(self) -> bool:
        return bool(self._awaited)


def in_turn(export: Export, match: NameMatch, pages: Mapping[int, Mapping]) -> tuple:
    """Page by page; of several exports of one page the newest last, since it is then the page's picture."""
    number = pages[match.page]["numbers"][0] if match.page is not None else 0
    return (number, export.stamp.changed_ns, natural_key(export.name))


def target_of(match: NameMatch, stage: str | None, sha256: str) -> str:
    """Bytes and where they go, as far as the name says it: what needs sending only once."""
    return " ".join([str(match.page), match.stage or stage or "-", match.alternate or "-", sha256])


def key_of(board: int, name: str, stage: str, target: str) -> str:
    """The same for the same request, over restarts: a broken line never sends twice."""
    return hashlib.sha256(f"{board}\n{name}\n{stage}\n{target}".encode()).hexdigest()


def fields_of(match: NameMatch, stage: str) -> dict[str, str]:
    return {"stage": stage, **({"alternate": match.alternate} if match.alternate else {})}
