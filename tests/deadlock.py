class Deadlock(Exception):
    """As PostgreSQL's driver tells it, behind the error of Django's."""

    sqlstate = "40P01"
