"""Another password for somebody who forgot theirs, or whose password was found out."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from board.actions.people import give_password
from board.errors import BoardError
from board.management.commands.add_person import in_words, read_password
from board.management.found_people import account_of


class Command(BaseCommand):
    help = (
        "Give somebody another password: it is asked for, or read as one line where nobody sits at a terminal. Where they are "
        "signed in, they are signed out, and their programs' tokens are taken back."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("username", help="what the person signs in as")

    def handle(self, *args: Any, username: str, **options: Any) -> None:
        person = account_of(username)
        try:
            give_password(person=person, new=read_password())
        except BoardError as problem:
            raise CommandError(in_words(problem)) from problem
        self.stdout.write(f"{username} can sign in with it, and is signed out everywhere; tokens of programs are taken back.")
