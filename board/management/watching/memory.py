"""What was sent, kept in the folder itself, so that it holds over restarts and moves along with the folder."""

import json
from pathlib import Path
from typing import Any

FILE_NAME = ".underblue-sent.json"


class Memory:
    """Of one board on one server. `target` is a picture's place and bytes: see `watcher.target_of`."""

    def __init__(self, folder: Path, board_address: str) -> None:
        self.path = folder / FILE_NAME
        self._all = self._read()
        mine: dict[str, Any] = self._all.setdefault(board_address, {})
        self.sent: dict[str, dict[str, Any]] = mine.setdefault("sent", {})
        self.pages_of_names: dict[str, int] = mine.setdefault("names", {})

    def remember(self, target: str, name: str, page: int, **told: Any) -> None:
        """It is there (`revision`, and `changed_ns` of the file that it was), or is never to be sent (`reason`)."""
        self.sent[target] = {"name": name, **told}
        if "reason" not in told:
            self.pages_of_names[name] = page
        self._write()

    def name_of(self, revision: int) -> str | None:
        """Of the file that was sent from here as this revision."""
        return next((told["name"] for told in self.sent.values() if told.get("revision") == revision), None)

    def refuse(self, revision: int, reason: str) -> None:
        """It arrived, and could not be opened there."""
        for told in self.sent.values():
            if told.get("revision") == revision:
                told["reason"] = reason
        self._write()

    def _read(self) -> dict[str, Any]:
        try:
            read = json.loads(self.path.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return {}
        return read if isinstance(read, dict) else {}

    def _write(self) -> None:
        """Whole or not at all."""
        half = self.path.with_suffix(".half")
        half.write_text(json.dumps(self._all, indent=1, ensure_ascii=False), encoding="utf-8")
        half.replace(self.path)
