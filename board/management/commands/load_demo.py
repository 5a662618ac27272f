"""`manage.py load_demo`: the demo board and the demo class, drawn and measured here; nothing to do when they are there already."""

import tempfile
from collections.abc import Callable
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from board.actions.send_job import keeping_all
from board.management.demo_class import TITLE, load_class
from board.management.demo_loading import DemoLoading, in_order_of_use
from board.models import Board, Job, SchoolClass
from board.models.job import QUEUED
from board.worker.run_job import run_job
from fixtures.demo_board import demo_board
from fixtures.draw_demo import drawing_aside


class Command(BaseCommand):
    help = "Draws the demo comic and puts it on a board, with its people, notes and measured notes; and a class beside it."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--scale", type=float, default=1.0, help="how large the pages are drawn; 1 is 300 dots per inch")

    def handle(self, *args: Any, **options: Any) -> None:
        title = demo_board().title
        if Board.objects.filter(title=title).exists():
            self.stdout.write(f"The demo board “{title}” is there.")
        else:
            self.stdout.write(f"Drawing “{title}” (once, about a minute) …")
            with tempfile.TemporaryDirectory() as folder:
                load_board(options["scale"], folder, self._say)
        if not SchoolClass.objects.filter(title=TITLE).exists():
            with keeping_all():
                load_class(finish_work, self._say)

    def _say(self, line: str) -> None:
        self.stdout.write(f"  {line}")
        self.stdout.flush()


def load_board(scale: float, folder: str, say: Callable[[str], None]) -> None:
    """Draws into the folder what is not there yet."""
    demo = demo_board()
    names = [picture.file for picture in in_order_of_use(demo)]
    with drawing_aside(folder, names, scale) as picture, keeping_all():
        DemoLoading(demo, picture, finish_work, say).load()


def finish_work() -> None:
    """Runs what is queued in this process: neither broker nor worker is up yet."""
    while (job := Job.objects.filter(state=QUEUED).order_by("pk").first()) is not None:
        run_job(job.pk)
