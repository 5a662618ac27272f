"""A watched folder: what is whole and new is sent once, to the page that its name says."""

import hashlib
import io
import os
import threading
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from django.core.management import call_command

from board.actions.pages import add_page
from board.actions.tokens import issue_token, revoke_tokens
from board.management.watching.folder import WatchedFolder, copied
from board.management.watching.memory import FILE_NAME, Memory
from board.management.watching.patience import Patience
from board.management.watching.server import Refused, Server, TryLater
from board.management.watching.watcher import Watcher
from board.models import Revision
from tests.pictures import png


class Clock:
    now = 0.0

    def __call__(self) -> float:
        return self.now


class FakeServer:
    """Pages 1, 2 and the spread 4-5; `broken` are failures that the next uploads meet, after they arrived or before."""

    def __init__(self) -> None:
        self.numbers = {11: [1], 12: [2], 14: [4, 5]}
        self.kept: dict[str, dict] = {}
        self.arrived: list[tuple[int, str, dict, bytes]] = []
        self.broken: list[tuple[Exception, bool]] = []
        self.revision_state = {"state": "ready", "reason": ""}
        self.tells_bytes = False

    def rows(self, path):
        if "/revisions" in path:
            page = int(path.split("/")[2])
            return [kept for kept in self.kept.values() if kept["page"] == page]
        drawn = {14: {"file_name": "spread as it was.png"}}
        return [{"id": pk, "numbers": numbers, "stage": "pencil", "chosen_alternate": "A", "current_revision": drawn.get(pk)}
                for pk, numbers in self.numbers.items()]

    def read(self, path):
        return self.revision_state

    def upload(self, page, file, size, name, fields, key):
        failure, has_arrived = self.broken.pop(0) if self.broken else (None, True)
        if has_arrived and key not in self.kept:
            content = file.read()
            assert len(content) == size
            self.arrived.append((page, name, fields, content))
            self.kept[key] = {"id": len(self.arrived), "page": page, "number": len(self.arrived), "stage": fields["stage"],
                              "alternate": fields.get("alternate", "A"), "panel": None, "state": "ready", "withdrawn_at": None,
                              "sha256": hashlib.sha256(content).hexdigest() if self.tells_bytes else "of another"}
        if failure:
            raise failure
        return self.kept[key]


class Folder:
    """A folder under watch, with a server that answers as told and a clock that stands still."""

    def __init__(self, path: Path) -> None:
        self.path, self.clock, self.server, self.lines = path, Clock(), FakeServer(), []
        self.begin()

    def begin(self, **more) -> None:
        watched, memory = WatchedFolder(self.path, 2.0, self.clock), Memory(self.path, "here/boards/1")
        self.watcher = Watcher(self.server, 1, watched, memory, self.lines.append, clock=self.clock, **more)

    def save(self, name: str, content: bytes = b"drawn") -> Path:
        path = self.path / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(content)
        return path

    def look(self, seconds: float = 3.0) -> list[str]:
        """Two looks, so that what stands still is seen to; what was said."""
        self.lines.clear()
        self.watcher.look()
        self.clock.now += seconds
        self.watcher.look()
        return list(self.lines)

    @property
    def sent(self) -> list[tuple[int, str]]:
        return [(page, name) for page, name, _, _ in self.server.arrived]


@pytest.fixture
def folder(tmp_path: Path) -> Folder:
    inside = tmp_path / "exports"
    inside.mkdir()
    return Folder(inside)


def test_an_export_goes_to_the_page_that_its_name_says(folder):
    folder.save("p01_pencil.png")
    folder.save("p02_final.png")
    folder.save("inks/04-05.png", b"spread")
    lines = folder.look()
    assert folder.server.arrived == [
        (11, "p01_pencil.png", {"stage": "pencil"}, b"drawn"), (12, "p02_final.png", {"stage": "final"}, b"drawn"),
        (14, "04-05.png", {"stage": "final"}, b"spread")]
    assert lines[:2] == ["p01_pencil.png: sent to page 1, pencil, as revision 1.",
                         "p02_final.png: sent to page 2, final, as revision 2."]  # which begins there
    assert "page 4-5, final, as revision 3 (the page is at pencil: it is kept there and moves nothing)." in lines[2]


def test_a_file_that_grows_or_is_renamed_is_left_until_it_stands_still(folder):
    path = folder.save("p01.png", b"half")
    folder.watcher.look()
    folder.clock.now += 1.5
    path.write_bytes(b"half and more")
    folder.watcher.look()
    folder.clock.now += 1.5
    folder.watcher.look()
    assert folder.sent == []
    path.rename(folder.path / "p02.png")
    folder.look()
    assert folder.sent == [(12, "p02.png")]


def test_what_is_no_export_is_not_looked_at(folder):
    for name in (".p01.png", "~p01.png", "p01.png.part", "p01.kra", ".cache/p01.png"):
        folder.save(name)
    folder.save("p01.png", b"")
    assert folder.look() == [] and folder.sent == []


def test_a_file_that_changes_while_it_is_read_is_not_sent(folder):
    path = folder.save("p01.png")
    folder.watcher.folder.look()
    folder.clock.now += 3
    export = folder.watcher.folder.look()[0]
    path.write_bytes(b"drawn on")
    with copied(export) as copy:
        assert copy is None
    path.unlink()
    with copied(export) as copy:
        assert copy is None


def test_the_same_bytes_are_sent_once_also_over_restarts(folder):
    folder.server.tells_bytes = True
    folder.save("p01.png")
    folder.look()
    folder.save("p01.png")  # saved again, nothing drawn
    assert folder.look() == ["1 picture here as sent before."]
    folder.begin()
    assert folder.look() == ["1 picture here as sent before."]
    folder.save("p01.png", b"drawn on")
    folder.look()
    assert folder.sent == [(11, "p01.png"), (11, "p01.png")]


@pytest.mark.parametrize("restarts", [False, True])
def test_who_goes_back_to_an_earlier_export_has_it_on_the_page_again(folder, restarts):
    folder.server.tells_bytes = True
    for moment, content in enumerate((b"first", b"second", b"first"), 1):
        os.utime(folder.save("p01.png", content), ns=(moment, moment))
        lines = folder.look()
        if restarts:
            folder.begin()
    assert [content for _, _, _, content in folder.server.arrived] == [b"first", b"second", b"first"]
    assert lines == ["p01.png: sent to page 1, pencil, as revision 3."]
    folder.begin()
    assert folder.look() == ["1 picture here as sent before."]


def test_what_was_withdrawn_comes_back_once_it_is_saved_again(folder):
    folder.server.tells_bytes = True
    folder.save("p01.png")
    folder.look()
    for kept in folder.server.kept.values():
        kept["withdrawn_at"] = "2026-01-01T00:00Z"
    folder.begin()
    assert folder.look() == ["1 picture here as sent before."]
    folder.save("p01.png")
    assert folder.look() == ["p01.png: sent to page 1, pencil, as revision 2."]


def test_an_older_export_under_another_name_puts_nothing_aside(folder):
    folder.server.tells_bytes = True
    os.utime(folder.save("p01.png", b"older"), ns=(1, 1))
    os.utime(folder.save("p01_new.png", b"newer"), ns=(2, 2))
    folder.look()
    os.utime(folder.path / "p01.png", ns=(3, 3))
    assert folder.look() == ["p01.png: is on page 1 already, as revision 1. Revision 2 stands in its place."]
    assert len(folder.sent) == 2


def test_the_same_bytes_for_another_page_or_stage_are_another_picture(folder):
    folder.save("p01.png")
    folder.save("p02.png")
    folder.save("p02_final.png")
    folder.look()
    assert sorted(folder.sent) == [(11, "p01.png"), (12, "p02.png"), (12, "p02_final.png")]


def test_what_was_sent_goes_by_no_other_stage_when_the_page_moves_on(folder):
    folder.save("p01.png")
    folder.look()
    folder.server.rows = lambda path: [] if "/revisions" in path else [
        {"id": 11, "numbers": [1], "stage": "final", "chosen_alternate": "A", "current_revision": None}]
    folder.begin()
    assert folder.look() == ["1 picture here as sent before."] and len(folder.sent) == 1


@pytest.mark.parametrize("has_arrived", [True, False])
def test_a_broken_line_never_sends_twice(folder, has_arrived):
    folder.server.broken = [(TryLater("The line broke."), has_arrived), (TryLater("The line broke."), has_arrived)]
    folder.save("p01.png")
    assert "Tried again in 1 s; it will arrive only once." in folder.look()[0]
    folder.begin()  # and if the computer is turned off between
    for _ in range(4):
        folder.look(seconds=5)
    assert len(folder.server.arrived) == 1 and folder.watcher.told.sent == 1 and not folder.watcher.waiting


def test_a_picture_that_is_there_already_is_not_sent(folder):
    sha256 = hashlib.sha256(folder.save("p01.png").read_bytes()).hexdigest()
    folder.server.kept["by browser"] = {"id": 7, "page": 11, "number": 3, "stage": "pencil", "alternate": "A",
                                        "sha256": sha256, "panel": None, "state": "ready", "withdrawn_at": None}
    assert folder.look() == ["p01.png: is on page 1 already, as revision 3."]
    assert folder.sent == []


def test_what_matches_no_page_is_said_once_and_sent_when_the_page_is_there(folder):
    folder.save("cover.png")
    folder.save("p09.png")
    assert folder.look() == [
        "cover.png: not sent, its name says no page. Name it like p03.png.",
        "p09.png: not sent, the board has no page 9. Add it on the Wall, and it is sent.",
    ]
    assert folder.look() == []
    folder.server.numbers[19] = [9]
    folder.look(seconds=61)
    assert folder.sent == [(19, "p09.png")] and folder.watcher.told.not_sent == {"cover.png"}


def test_a_name_that_says_nothing_goes_where_it_went_before(folder):
    memory = folder.watcher.memory
    memory.remember("11 - - other bytes", "cover.png", 11, revision=1)
    folder.save("cover.png")
    folder.look()
    assert folder.sent == [(11, "cover.png")]


def test_of_two_exports_of_a_page_the_newer_is_sent_last(folder):
    os.utime(folder.save("p01 v2.png", b"older"), ns=(1, 1))
    os.utime(folder.save("p01 v1.png", b"newer"), ns=(2, 2))
    folder.look()
    assert [name for _, name in folder.sent] == ["p01 v2.png", "p01 v1.png"]


def test_what_the_server_refuses_is_said_and_not_sent_again(folder):
    folder.server.broken = [(Refused("This is no picture.", 415), False)]
    folder.save("p01.png")
    assert folder.look() == ["p01.png: the server does not take it for page 1. This is no picture."]
    folder.begin()
    said = "p01.png: not sent again, the server did not take this very picture. This is no picture."
    assert folder.look() == [said]  # once more after a restart, and not among those that were sent
    assert folder.look() == [] and folder.sent == [] and folder.watcher.told.not_sent == {"p01.png"}


def test_a_page_exported_as_no_picture_is_said_once(folder):
    for name in ("p05.pdf", "inks/p06.heic", "p01.pdf", "p01.png", "budget.pdf", "p07.pdf.part"):
        folder.save(name)
    told = "not sent, it is no picture that is taken there. Export it as PNG, JPEG, WebP, TIFF or OpenRaster."
    assert folder.look()[:2] == [f"inks/p06.heic: {told}", f"p05.pdf: {told}"]
    assert folder.look() == [] and folder.watcher.told.not_sent == {"p05.pdf", "inks/p06.heic"}
    folder.save("p05.png")
    folder.look()
    assert folder.sent == [(11, "p01.png"), (14, "p05.png")] and folder.watcher.told.not_sent == {"inks/p06.heic"}


def test_a_name_that_is_no_text_is_said_once_and_keeps_no_other_picture(folder):
    (Path(os.fsdecode(os.fsencode(folder.path) + b"/p02_st\xe4ge.png"))).write_bytes(b"drawn")
    folder.save("p01.png")
    assert folder.look()[0] == "p02_st?ge.png: not sent, some letters of its name cannot be read on this computer. Rename it."
    assert folder.look() == [] and folder.sent == [(11, "p01.png")] and folder.watcher.told.not_sent == {"p02_st?ge.png"}


def test_a_picture_that_cannot_be_opened_over_there_is_told(folder):
    folder.server.revision_state = {"state": "refused", "reason": "It is cut off."}
    folder.save("p01.png")
    folder.look()
    assert folder.look() == ["p01.png: arrived, but cannot be opened. It is cut off."]
    folder.begin()
    assert folder.look() == ["p01.png: not sent again, the server did not take this very picture. It is cut off."]


def test_a_token_that_no_longer_holds_ends_it(folder):
    folder.server.broken = [(Refused("Sign in first.", 401), False)]
    folder.save("p01.png")
    with pytest.raises(Refused):
        folder.look()


def test_a_dry_run_says_what_would_go_where(folder):
    folder.begin(sends=False)
    folder.save("p01.png")
    assert folder.look() == ["p01.png: would go to page 1, pencil."] and folder.sent == []
    assert not (folder.path / FILE_NAME).exists()


def test_a_memory_that_is_no_json_is_begun_anew(tmp_path):
    (tmp_path / FILE_NAME).write_text("[half")
    memory = Memory(tmp_path, "here")
    memory.remember("t", "p01.png", 11, revision=1)
    assert Memory(tmp_path, "here").sent == {"t": {"name": "p01.png", "revision": 1}} and Memory(tmp_path, "there").sent == {}


def test_patience_doubles_and_hears_what_the_server_asks():
    clock = Clock()
    patience = Patience(clock, chance=lambda: 0.0)
    assert [patience.failed("p") for _ in range(8)] == [1, 2, 4, 8, 16, 32, 60, 60]
    assert patience.failed("p", asked_seconds=120) == 120 and not patience.may_try("p")
    clock.now = 120
    assert patience.may_try("p") and patience.went_well("p") and patience.tries("p") == 0


class Answers(BaseHTTPRequestHandler):
    """Breaks off, asks for patience, sends elsewhere, and takes it at last."""

    def do_POST(self) -> None:
        self.server.keys.append(self.headers["Idempotency-Key"])
        self.rfile.read(int(self.headers["Content-Length"]))
        step = self.server.steps.pop(0)
        if step is None:
            return  # hangs up
        status, headers, body = step
        self.send_response(status)
        for name, value in headers.items():
            self.send_header(name, value)
        if "Content-Length" not in headers:
            self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *args) -> None:
        pass


def test_answers_of_a_server_are_told_apart():
    with ThreadingHTTPServer(("127.0.0.1", 0), Answers) as http:
        http.keys, http.steps = [], [
            None, (201, {"Content-Length": "99"}, b'{"id": 5}'), (503, {"Content-Length": "99"}, b"down"),
            (503, {}, b"down"), (429, {"Retry-After": "7"}, b'{"detail": "Too many."}'),
            (307, {"Location": "http://127.0.0.1:1/elsewhere"}, b""),
            (400, {}, b'{"detail": "Not so.", "errors": {"image": ["No picture."]}}'), (201, {}, b'{"id": 5}')]
        threading.Thread(target=http.serve_forever, daemon=True).start()
        server = Server(f"http://127.0.0.1:{http.server_port}", "secret")
        said, answer = [], None
        while http.steps:
            try:
                answer = server.upload(3, io.BytesIO(b"bytes"), 5, 'a "b".png', {"stage": "final"}, "one-key")
            except (TryLater, Refused) as trouble:
                said.append((type(trouble).__name__, getattr(trouble, "after_seconds", trouble.args[0])))
        http.shutdown()
    assert said == [*[("TryLater", None)] * 4, ("TryLater", 7.0), ("Refused", "The server answered 307."),
                    ("Refused", "Not so. No picture.")]
    assert answer == {"id": 5} and set(http.keys) == {"one-key"}


@pytest.mark.parametrize(
    ("address", "is_overheard"),
    [("http://127.0.0.1:8000", False), ("http://studio.example", True), ("https://studio.example", False)],
)
def test_a_token_over_an_open_line_is_warned_of(address, is_overheard):
    assert Server(address).is_overheard == is_overheard


def run_once(folder: Path, server: str, *more: str) -> tuple[int, str]:
    said = io.StringIO()
    try:
        call_command("watch", str(folder), "--server", server, "--once", "--settle", "0.05", *more, stdout=said, stderr=said)
    except SystemExit as end:
        return int(end.code or 0), said.getvalue()
    return 0, said.getvalue()


def test_once_against_the_real_thing(live_server, transactional_db, tmp_path, monkeypatch, cast):
    """Through the API with a token; what the worker would do, nobody does here."""
    monkeypatch.setattr("board.management.commands.watch.OPENED_WITHIN_SECONDS", 0.0)
    monkeypatch.setenv("UNDERBLUE_TOKEN", issue_token(user=cast.artist))
    add_page(seat=cast.seat("owner"), number=4, is_spread=True)
    for name, shade in (("p01_final.png", 10), ("04-05b.png", 20), ("p07.png", 30)):
        (tmp_path / name).write_bytes(png(shade=shade))
    code, said = run_once(tmp_path, live_server.url)
    assert code == 1 and "p07.png: not sent, the board has no page 7." in said and "2 pictures sent, 1 not: p07.png." in said
    kept = {(one.page.number, one.stage, one.alternate, one.file_name) for one in Revision.objects.select_related("page")}
    assert kept == {(1, "final", "A", "p01_final.png"), (4, "thumbnail", "B", "04-05b.png")}
    (tmp_path / "p07.png").unlink()
    (tmp_path / FILE_NAME).unlink()  # even without its memory: the server has them
    code, said = run_once(tmp_path, live_server.url)
    assert code == 0 and "is on page 1 already, as revision 1" in said and Revision.objects.count() == 2


@pytest.mark.parametrize("has_another", [False, True])
def test_a_token_that_was_taken_back_is_read_again_or_told(live_server, transactional_db, tmp_path, monkeypatch, cast, has_another):
    monkeypatch.setattr("board.management.commands.watch.OPENED_WITHIN_SECONDS", 0.0)
    exports, token_file, rows = tmp_path / "exports", tmp_path / "token", Server.rows
    exports.mkdir()
    (exports / "p01_final.png").write_bytes(png(shade=10))
    token_file.write_text(issue_token(user=cast.artist))
    lost = [True]

    def rows_after_the_token_was_lost(self, path):
        if "/revisions" in path and lost and lost.pop():
            revoke_tokens(user=cast.artist)
            if has_another:
                token_file.write_text(issue_token(user=cast.artist))
        return rows(self, path)

    monkeypatch.setattr(Server, "rows", rows_after_the_token_was_lost)
    code, said = run_once(exports, live_server.url, "--board", str(cast.board.pk), "--token-file", str(token_file))
    told = "There is a new token. Tried again" if has_another else "Start again with another in UNDERBLUE_TOKEN"
    last = "Stopped. 1 picture sent, 0 not." if has_another else "Stopped. 0 pictures sent, 1 not: p01_final.png."
    assert code == (0 if has_another else 2) and told in said and last in said


def test_without_a_token_or_a_folder_it_says_what_is_needed(tmp_path, monkeypatch):
    monkeypatch.delenv("UNDERBLUE_TOKEN", raising=False)
    monkeypatch.setattr("sys.stdin", io.StringIO())
    assert run_once(tmp_path, "http://127.0.0.1:9")[0] == 2
    code, said = run_once(tmp_path / "gone", "http://127.0.0.1:9")
    assert code == 2 and "is no folder" in said
