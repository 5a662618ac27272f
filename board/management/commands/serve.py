"""Everything that one machine needs, in one terminal: the embedded broker, the web process and the worker."""

import os
import socket
import sys
import time
from argparse import ArgumentParser
from contextlib import ExitStack
from functools import partial
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from board.embedded_broker.server import BrokerDidNotStart, start_broker
from board.file_storage import UNFINISHED, drop_cut_off
from board.management.demo_people import sign_ins_as_text
from board.management.only_one import only_one_here
from board.management.supervised import Supervised, start_apart
from board.management.supervisor import PartKeepsFailing, Supervisor

# uvicorn waits for ever on open event streams unless told otherwise.
STREAMS_CLOSE_SECONDS = "2"
START_SECONDS = 30
HERE = "127.0.0.1"
EVERY_ADDRESS = ("0.0.0.0", "::", "")  # noqa: S104 (refused)
IN_THE_CLEAR = """Others in this network can open it there. What they send is not encrypted, passwords neither: do so where
you trust everybody in the network. For others put it behind a server that speaks HTTPS (README, "Grown")."""


class Command(BaseCommand):
    help = "Run Underblue on this machine: web, worker and, without REDIS_URL, the embedded broker. Ctrl-C stops all of it."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--host", default=HERE, help="the address or name by which others in the network find this machine "
                            "(if not given, this machine only)")
        parser.add_argument("--port", type=int, default=8000)
        parser.add_argument("--with-demo", action="store_true", help="print who may sign in to the demo board")

    def handle(self, *args: Any, host: str, port: int, with_demo: bool, **options: Any) -> None:
        refuse_no_address(host)
        with ExitStack() as held:
            held.enter_context(only_one_here())
            refuse_taken_port(host, port)
            refuse_old_database()
            drop_what_was_cut_off()
            supervisor = Supervisor(parts(host, port))
            try:
                supervisor.run(when_up=partial(self._say_where, supervisor, host, port, with_demo))
            except (BrokerDidNotStart, PartKeepsFailing) as error:
                raise CommandError(str(error)) from error
        self.stdout.write("Underblue has stopped.")

    def _say_where(self, supervisor: Supervisor, host: str, port: int, with_demo: bool) -> None:
        wait_until_it_answers(supervisor, host, port)
        self.stdout.write(f"\nUnderblue is at http://{host}:{port}/   (Ctrl-C stops it)")
        if host != HERE and not settings.HTTPS:
            self.stdout.write(IN_THE_CLEAR)
        if with_demo:
            self.stdout.write(f"Sign in to the demo board as\n{sign_ins_as_text()}")
        self.stdout.flush()


def parts(host: str, port: int) -> list[Supervised]:
    broker = [] if settings.REDIS_URL else [Supervised("The embedded broker", partial(start_broker, settings.VAR_DIR), 5)]
    return [
        *broker,
        Supervised("The worker", partial(start_apart, worker_command(), ONE_THREAD | QUICK_START), 10),
        Supervised("The web process", partial(start_apart, web_command(host, port), {"UNDERBLUE_HOSTS": ",".join(hosts(host))}), 5),
    ]


# The worker's children share the cores among them. The whole project was checked by `migrate`. Celery warns whoever is root or may
# become it, for the sake of pickled messages; ours are a number in JSON.
ONE_THREAD = {"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
QUICK_START = {"CELERY_SKIP_CHECKS": "1", "PYTHONWARNINGS": "ignore::UserWarning:celery.platforms"}


def worker_command() -> list[str]:
    alone = ["--without-gossip", "--without-mingle", "--without-heartbeat"]
    return [sys.executable, "-m", "celery", "--app", "board.celery", "--quiet", "worker", "--loglevel", "WARNING", *alone]


def web_command(host: str, port: int) -> list[str]:
    quiet = ["--log-level", "warning", "--no-access-log", "--no-server-header", "--lifespan", "off"]
    address = ["--host", host, "--port", str(port), "--timeout-graceful-shutdown", STREAMS_CLOSE_SECONDS]
    return [sys.executable, "-m", "uvicorn", "board.asgi:application", *address, *quiet]


def refuse_no_address(host: str) -> None:
    """A browser has to ask by a name that Underblue answers to; who has told all of them may listen wherever they like."""
    if host in EVERY_ADDRESS and "UNDERBLUE_HOSTS" not in os.environ:
        raise CommandError("Give the address or name by which others find this machine, or all of them in UNDERBLUE_HOSTS.")


def hosts(host: str) -> list[str]:
    """What the web process answers to: as it is set, and that under which it is started."""
    return list(dict.fromkeys([*settings.ALLOWED_HOSTS, host]))


def refuse_taken_port(host: str, port: int) -> None:
    try:
        with socket.create_server((host, port)):
            pass
    except OSError as error:
        raise CommandError(f"Cannot listen on {host}:{port} ({error.strerror}). Give another one with --port.") from error


def refuse_old_database() -> None:
    executor = MigrationExecutor(connection)
    if executor.migration_plan(executor.loader.graph.leaf_nodes()):
        raise CommandError("The database is not up to date. Run: manage.py migrate")
    connection.close()


def drop_what_was_cut_off() -> None:
    """What a web process or worker that was killed was taking in or writing."""
    for folder in (Path(settings.FILE_UPLOAD_TEMP_DIR), settings.VAR_DIR / "files" / UNFINISHED):
        drop_cut_off(folder, older_than_seconds=3600)


def wait_until_it_answers(supervisor: Supervisor, host: str, port: int) -> None:
    deadline = time.monotonic() + START_SECONDS
    while time.monotonic() < deadline:
        try:
            socket.create_connection((host, port), timeout=1).close()
            return
        except OSError:
            supervisor.check()
            time.sleep(0.1)
    raise PartKeepsFailing(f"The web process did not answer within {START_SECONDS} s.")
