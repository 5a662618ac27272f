"""A board or a class whose people all left is run by somebody again."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from board.actions.closed_accounts import let_edit, let_instruct
from board.errors import BoardError
from board.management.found_people import account_of
from board.models import Board, SchoolClass


class Command(BaseCommand):
    help = "Make somebody editor of a board, or instructor of a class, that nobody runs any more."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("username", help="what the person signs in as")
        what = parser.add_mutually_exclusive_group(required=True)
        what.add_argument("--board", type=int, metavar="NUMBER", help="as in its address")
        what.add_argument("--class", type=int, metavar="NUMBER", dest="school_class", help="as in its address")

    def handle(self, *args: Any, username: str, board: int | None, school_class: int | None, **options: Any) -> None:
        person = account_of(username)
        if not person.is_active:
            raise CommandError(f"The account “{username}” is closed.")
        try:
            if board is not None:
                one = let_edit(person=person, board=_found(Board, board)).board
                self.stdout.write(f"{username} is editor of {one}.")
            else:
                told = let_instruct(person=person, school_class=_found(SchoolClass, school_class)).school_class
                self.stdout.write(f"{username} instructs {told}.")
        except BoardError as problem:
            raise CommandError(problem.message) from problem


def _found(kind: Any, number: int | None) -> Any:
    if (row := kind.objects.filter(pk=number).first()) is None:
        raise CommandError(f"There is no {kind._meta.verbose_name.split()[-1]} {number}.")
    return row
