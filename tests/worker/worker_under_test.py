"""A real worker in its own process, whose checks are the fake ones: `python -m tests.worker.worker_under_test`."""

from board.celery import app


def main() -> None:
    app.loader.import_default_modules()  # sets up Django
    from tests.worker.fake_handlers import register

    register("work")
    quiet = ["--without-gossip", "--without-mingle", "--without-heartbeat", "--loglevel=WARNING"]
    app.worker_main(["worker", "--concurrency=2", *quiet])


if __name__ == "__main__":
    main()
