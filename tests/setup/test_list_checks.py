from io import StringIO

from django.core.management import call_command

from board.check_registry import CHECKS


def test_the_table_has_a_row_for_every_check() -> None:
    output = StringIO()
    call_command("list_checks", stdout=output)
    head, *rows = output.getvalue().splitlines()
    assert head.split()[:3] == ["check", "label", "stages"]
    assert [row.split()[0] for row in rows] == list(CHECKS)
