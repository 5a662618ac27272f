from pathlib import Path

import pytest

from tests import kept_from_before
from tests.kept_from_before import CODE, CODE_AND_STATIC, kept_or_made, made_of


@pytest.fixture
def code(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A file that what is kept is made by."""
    monkeypatch.setattr(kept_from_before, "ROOT", tmp_path / "root")
    monkeypatch.setattr(kept_from_before, "KEPT", tmp_path / "kept")
    file = tmp_path / "root" / "board" / "vision" / "panels.py"
    file.parent.mkdir(parents=True)
    file.write_text("LEAST = 1")
    return file


def made_in(folder: Path) -> list[str]:
    """The files that are there after it was kept or made, and `"made"` if it was made."""
    calls: list[str] = []

    def make() -> None:
        calls.append("made")
        (folder / "files").mkdir(parents=True)
        (folder / "files" / "page.png").touch()
        (folder / "secret_key").touch()

    kept_or_made("demo", folder, make)
    return [*calls, *sorted(path.name for path in folder.rglob("*.*") if path.is_file())]


def test_what_was_made_is_taken_again_without_what_each_run_has_of_its_own(code, tmp_path):
    assert made_in(tmp_path / "first") == ["made", "page.png"]
    assert made_in(tmp_path / "second") == ["page.png"]
    assert not (tmp_path / "second" / "secret_key").exists()


@pytest.mark.parametrize("change", [
    lambda code: code.write_text("LEAST = 2"), lambda code: code.rename(code.with_name("frames.py")), lambda code: code.unlink(),
    lambda code: code.with_name("gutters.py").touch(),
], ids=["changed", "renamed", "gone", "another"])
def test_after_a_change_of_the_code_it_is_made_anew(code, tmp_path, change):
    made_in(tmp_path / "first")
    change(code)
    assert made_in(tmp_path / "second")[0] == "made"
    assert len(list((tmp_path / "kept").glob("*-*"))) == 1


def test_on_another_day_it_is_made_anew(code, tmp_path, monkeypatch):
    class Tomorrow(kept_from_before.date):
        @classmethod
        def today(cls):
            return cls(2999, 1, 1)

    made_in(tmp_path / "first")
    monkeypatch.setattr(kept_from_before, "date", Tomorrow)
    assert made_in(tmp_path / "second")[0] == "made"


def test_what_was_made_while_the_code_changed_is_not_taken_for_the_new_codes(code, tmp_path):
    kept_or_made("demo", tmp_path / "first", lambda: ((tmp_path / "first").mkdir(), code.write_text("LEAST = 2")))
    assert made_in(tmp_path / "second")[0] == "made"


def test_static_files_are_made_by_what_they_are_copied_from_too(code, tmp_path):
    script = tmp_path / "root" / "static" / "js" / "desk.js"
    script.parent.mkdir(parents=True)
    keys = []
    for text in ("let a", "let b"):
        script.write_text(text)
        keys.append([made_of(tmp_path / "root", sources) for sources in (CODE, CODE_AND_STATIC)])
    assert keys[0][0] == keys[1][0] and keys[0][1] != keys[1][1]


def test_screens_may_change(code, tmp_path):
    made_in(tmp_path / "first")
    screen = tmp_path / "root" / "board" / "screens" / "desk.py"
    screen.parent.mkdir()
    screen.touch()
    assert made_in(tmp_path / "second") == ["page.png"]
