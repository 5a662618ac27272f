"""Somebody who left, or whose account others use: it signs nobody in any more, and what they drew and wrote stays."""

from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from board.actions.closed_accounts import boards_without_review, classes_without_instructor, close_account, reopen_account
from board.management.found_people import account_of


class Command(BaseCommand):
    help = (
        "Close an account: its person is signed out everywhere, and the tokens and links that they gave are taken back. What they "
        "drew and wrote stays. Tells which boards and classes nobody runs then; `hand_over` gives them to somebody."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("username", help="what the person signs in as")
        parser.add_argument("--reopen", action="store_true", help="open it again, with the password that it had")

    def handle(self, *args: Any, username: str, reopen: bool, **options: Any) -> None:
        person = account_of(username)
        if reopen:
            reopen_account(person=person)
            self.stdout.write(f"{username} can sign in again.")
            return
        close_account(person=person)
        self.stdout.write(f"{username} can sign in no more.")
        for board in boards_without_review():
            self.stdout.write(f"Nobody is editor of board {board.pk}, {board.title}: hand_over NAME --board {board.pk}")
        for one in classes_without_instructor():
            self.stdout.write(f"Nobody instructs class {one.pk}, {one.title}: hand_over NAME --class {one.pk}")
