import pytest

from board.embedded_broker.run_folder import socket_path
from board.worker.tasks import say_if_no_broker_is_there


@pytest.mark.parametrize(("redis_url", "is_told"), [("", True), ("redis://127.0.0.1:1/0", False)])
def test_a_worker_that_nobody_started_a_broker_for_says_what_to_do(tmp_path, settings, caplog, redis_url, is_told):
    settings.VAR_DIR, settings.REDIS_URL = tmp_path, redis_url
    say_if_no_broker_is_there()
    assert (f"No broker answers at {socket_path(tmp_path)}. `serve` starts it" in caplog.text) is is_told
