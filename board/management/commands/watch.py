"""`manage.py watch DIR`: each export saved there becomes a new revision of its page."""

import os
import signal
import sys
import time
from argparse import ArgumentParser
from getpass import getpass
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand

from board.management.watching.folder import WatchedFolder
from board.management.watching.memory import Memory
from board.management.watching.server import Refused, Server, TryLater
from board.management.watching.watcher import Watcher
from board.management.watching.words import several
from board.page_names import natural_key
from board.stages.order import STAGES

TOKEN = "UNDERBLUE_TOKEN"
MOST_TRIES_AT_ONCE = 6  # with --once
OPENED_WITHIN_SECONDS = 30.0
MOST_NAMES = 6  # in the last line


class Command(BaseCommand):
    help = (
        "Watches a folder and sends each saved export to its page as a new revision. The file's name says the page (p03.png, "
        "page 3, 04-05.png for a spread), and if it likes the stage (p03_pencil.png, or a folder pencils/) and the alternate "
        f"(p03b.png). The token is taken from {TOKEN} or --token-file; else name and password are asked for."
    )
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("folder", type=Path, metavar="DIR")
        parser.add_argument("--server", default="http://127.0.0.1:8000", metavar="URL")
        parser.add_argument("--board", type=int, metavar="ID", help="may be left out by who draws on one board only")
        parser.add_argument("--stage", choices=STAGES, help="of files whose name says none; else the page's own")
        parser.add_argument("--token-file", type=Path, metavar="FILE")
        parser.add_argument("--once", action="store_true", help="send what lies there and end; with 1 if anything was not sent")
        parser.add_argument("--from-now", action="store_true", help="pass over what lies there already")
        parser.add_argument("--dry-run", action="store_true", help="say what would go where, and send nothing")
        parser.add_argument("--every", type=float, default=2.0, metavar="SECONDS", help="between two looks")
        parser.add_argument("--settle", type=float, default=2.0, metavar="SECONDS", help="that a file has to stand unchanged")

    def handle(self, *args: Any, **options: Any) -> None:
        signal.signal(signal.SIGTERM, signal.default_int_handler)
        watcher = None
        try:
            watcher = self._watcher(options)
            self._watch(watcher, options)
        except KeyboardInterrupt:
            self.say("")
        except (Refused, TryLater, OSError) as trouble:
            if watcher:
                self._say_stopped(watcher)
            self._end(self._words_of(trouble, has_token=bool(watcher or options["token_file"] or os.environ.get(TOKEN))))
        if watcher:
            self._say_stopped(watcher)
            if options["once"] and watcher.told.not_sent:
                sys.exit(1)

    def _say_stopped(self, watcher: Watcher) -> None:
        names = sorted(watcher.told.not_sent, key=natural_key)
        more = f" and {len(names) - MOST_NAMES} more" if len(names) > MOST_NAMES else ""
        listed = f": {', '.join(names[:MOST_NAMES])}{more}" if names else ""
        self.say(f"Stopped. {several(watcher.told.sent, 'picture')} sent, {len(names)} not{listed}.")

    def _words_of(self, trouble: Exception, *, has_token: bool) -> str:
        if not (isinstance(trouble, Refused) and trouble.status == 401 and has_token):
            return str(trouble)
        return (f"The server no longer knows this token, or never did. Start again with another in {TOKEN} or by --token-file; "
                "without one you are asked for name and password. What was sent is not sent twice.")

    def say(self, line: str) -> None:
        """Whatever letters the terminal has: one that it lacks must not end the watch."""
        letters = getattr(self.stdout, "encoding", None) or "utf-8"
        self.stdout.write(line.encode(letters, "replace").decode(letters))
        self.stdout.flush()

    def _watcher(self, options: dict[str, Any]) -> Watcher:
        folder = options["folder"].expanduser().resolve()
        if not folder.is_dir():
            self._end(f"{folder} is no folder.")
        server = Server(options["server"].rstrip("/"))
        if server.is_overheard:
            self.stderr.write("Your token goes over an open line to this server: better use https.")
        self._sign_in(server, options["token_file"])
        board = self._board(server, options["board"])
        self.say(f"Watching {folder} for “{board['title']}” at {server.address}. Ctrl-C ends it.")
        return Watcher(
            server, board["id"], WatchedFolder(folder, options["settle"]), Memory(folder, f"{server.address}/boards/{board['id']}"),
            self.say, stage=options["stage"], sends=not options["dry_run"],
        )

    def _sign_in(self, server: Server, token_file: Path | None) -> None:
        try:
            server.token = token_of(token_file)
        except OSError as error:
            self._end(f"{token_file}: {error.strerror}")
        if server.token:
            server.renew = lambda: token_of(token_file)
            return
        if not sys.stdin.isatty():
            self._end(f"A token is needed: set {TOKEN}, or name a file with --token-file. POST /api/v1/tokens gives one.")
        server.sign_in(input("Name: "), getpass("Password: "))

    def _board(self, server: Server, wanted: int | None) -> dict[str, Any]:
        if wanted is not None:
            return server.read(f"/boards/{wanted}")
        boards = [board for board in server.rows("/boards?limit=500") if board["may"]["draw"]]
        if len(boards) == 1:
            return boards[0]
        if not boards:
            self._end("You draw on no board there.")
        listed = "".join(f"\n  --board {board['id']}  {board['title']}" for board in boards)
        return self._end(f"Say which board:{listed}")

    def _watch(self, watcher: Watcher, options: dict[str, Any]) -> None:
        if options["from_now"]:
            watcher.folder.look()
            time.sleep(watcher.folder.settle_seconds)
            self.say(f"{several(watcher.pass_over(), 'picture')} passed over.")
        until = None
        while True:
            watcher.look()
            if options["once"] and watcher.folder.is_settled and self._is_through(watcher):
                until = until or time.monotonic() + OPENED_WITHIN_SECONDS
                if not watcher.awaits_opening or time.monotonic() > until:
                    return
            time.sleep(min(options["every"], watcher.folder.settle_seconds) if options["once"] else options["every"])

    def _is_through(self, watcher: Watcher) -> bool:
        return all(watcher.patience.tries(name) >= MOST_TRIES_AT_ONCE for name in watcher.waiting)

    def _end(self, why: str) -> NoReturn:
        self.stderr.write(why)
        sys.exit(2)


def token_of(file: Path | None) -> str:
    return file.read_text(encoding="utf-8").strip() if file else os.environ.get(TOKEN, "")
