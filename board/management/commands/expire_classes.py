"""`manage.py expire_classes`: lists the classes that are kept no longer; with `--delete`, deletes what their students made."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand
from django.utils import timezone

from board.actions.retention import delete_class, expired_classes
from board.stages.deadlines import today_at_the_latest


class Command(BaseCommand):
    help = "Lists the classes whose retention has run out. With --delete, deletes their students' data and the classes."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--delete", action="store_true", help="delete them; without it they are only listed")

    def handle(self, *args: Any, **options: Any) -> None:
        expired = expired_classes(today_at_the_latest(timezone.now()))
        if not expired:
            self.stdout.write("No class has outlived its retention.")
        for one in expired:
            students = one.enrolments.filter(place="student").count()
            self.stdout.write(f"{one.title}, {one.term}: ended {one.ends_on}, kept until {one.kept_until}, {students} students")
            if options["delete"]:
                delete_class(school_class=one)
                self.stdout.write("  deleted")
        if expired and not options["delete"]:
            self.stdout.write("Nothing was deleted. Ask for it with --delete; your school's own rules come first.")
