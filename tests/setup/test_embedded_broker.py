import os
import signal
import stat
from pathlib import Path

from redis import Redis

from board.embedded_broker.run_folder import LONGEST_SOCKET_PATH, run_folder, socket_path, socket_url
from board.embedded_broker.server import start_broker


def client(var_dir: Path) -> Redis:
    return Redis(unix_socket_path=str(socket_path(var_dir)))


def test_what_was_put_on_it_is_there_after_a_restart(tmp_path: Path) -> None:
    server = start_broker(tmp_path)
    client(tmp_path).rpush("queue", *range(2000))
    server.send_signal(signal.SIGTERM)
    server.wait(10)
    server = start_broker(tmp_path)
    try:
        assert client(tmp_path).llen("queue") == 2000
    finally:
        server.kill()
        server.wait()


def test_a_queue_that_cannot_be_read_is_put_aside(tmp_path: Path) -> None:
    log = tmp_path / "broker" / "appendonlydir" / "appendonly.aof.manifest"
    log.parent.mkdir(parents=True)
    log.write_text("this is no manifest\n")
    server = start_broker(tmp_path)
    try:
        assert client(tmp_path).ping()
        assert len(list(tmp_path.glob("broker-unreadable-*"))) == 1
    finally:
        server.kill()
        server.wait()


def test_only_its_owner_can_reach_it(tmp_path: Path) -> None:
    server = start_broker(tmp_path)
    try:
        assert stat.S_IMODE(run_folder(tmp_path).stat().st_mode) == 0o700
        assert stat.S_IMODE(socket_path(tmp_path).stat().st_mode) == 0o700
    finally:
        server.kill()
        server.wait()


def test_a_socket_path_is_never_too_long(tmp_path: Path) -> None:
    deep = tmp_path / ("a long name of a folder " * 6)
    assert len(os.fsencode(socket_path(deep))) <= LONGEST_SOCKET_PATH
    assert socket_path(deep) != socket_path(deep / "other")
    assert socket_url(deep) == f"redis+socket://{socket_path(deep)}"


def test_a_short_path_stays_beside_the_data() -> None:
    assert socket_path(Path("/srv/underblue")) == Path("/srv/underblue/run/broker.sock")
