"""The first people of an Underblue: those who come later may be sent a link to a seat."""

import sys
from getpass import getpass
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from board.actions.people import make_account
from board.errors import BoardError


class Command(BaseCommand):
    help = "Make an account. The password is asked for, or read as one line where nobody sits at a terminal."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("username", help="what the person signs in as")
        parser.add_argument("--name", default="", help="how others read it, if otherwise")

    def handle(self, *args: Any, username: str, name: str, **options: Any) -> None:
        try:
            make_account(username=username, password=read_password(), name=name)
        except BoardError as problem:
            raise CommandError(in_words(problem)) from problem
        self.stdout.write(f"{username} can sign in.")


def in_words(problem: BoardError) -> str:
    errors = problem.details.get("errors")
    more = [word for words in errors.values() for word in words] if isinstance(errors, dict) else []
    return " ".join([problem.message, *more])


def read_password() -> str:
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\n")
    password = getpass("Password: ")
    if getpass("Once more: ") != password:
        raise CommandError("The two are not the same.")
    return password
