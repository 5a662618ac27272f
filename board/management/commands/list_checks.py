"""The registry of checks as a table."""

from typing import Any

from django.core.management.base import BaseCommand

from board.check_registry import CHECKS, CheckEntry

HEAD = ("check", "label", "stages", "after", "version", "findings", "tolerances")


class Command(BaseCommand):
    help = "List the checks that uploads are measured by."

    def handle(self, *args: Any, **options: Any) -> None:
        rows = [HEAD, *(row_of(entry) for entry in CHECKS.values())]
        widths = [max(len(row[column]) for row in rows) for column in range(len(HEAD))]
        for row in rows:
            self.stdout.write("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())


def row_of(entry: CheckEntry) -> tuple[str, ...]:
    tolerances = (f"{name}={value:g}" for name, value in entry.tolerances.items())
    return (
        entry.id, entry.label, ", ".join(entry.stages), ", ".join(entry.after) or "-", str(entry.version),
        ", ".join(entry.findings) or "-", ", ".join(tolerances) or "-",
    )
