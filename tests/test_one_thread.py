"""A request passes to a thread once: no middleware hands it to the loop and back."""

import threading
from collections.abc import Callable

from asgiref.sync import iscoroutinefunction
from asgiref.testing import ApplicationCommunicator
from django.http import HttpRequest, HttpResponse
from django.test import override_settings
from django.urls import path

from board.one_thread import InOneThread

SEEN: list[object] = []


class Noting:
    sync_capable = async_capable = True

    def __init__(self, get_response: Callable) -> None:
        self.get_response = get_response
        SEEN.append("loop" if iscoroutinefunction(get_response) else "thread")

    def __call__(self, request: HttpRequest) -> HttpResponse:
        SEEN.append(threading.get_ident())
        return self.get_response(request)


def plain(request: HttpRequest) -> HttpResponse:
    SEEN.append(threading.get_ident())
    return HttpResponse("here")


urlpatterns = [path("plain", plain)]
SCOPE = {"type": "http", "method": "GET", "path": "/plain", "query_string": b"", "headers": [(b"host", b"here")]}


async def test_all_middleware_and_the_view_run_in_one_thread_apart_from_the_loop():
    SEEN.clear()
    middleware = [f"{__name__}.Noting", "django.middleware.common.CommonMiddleware", f"{__name__}.Noting"]
    with override_settings(ROOT_URLCONF=__name__, MIDDLEWARE=middleware, ALLOWED_HOSTS=["*"]):
        asked = ApplicationCommunicator(InOneThread(), SCOPE)
        await asked.send_input({"type": "http.request"})
        assert (await asked.receive_output())["status"] == 200
        assert (await asked.receive_output())["body"] == b"here"
        await asked.wait()
    kinds, threads = SEEN[:2], SEEN[2:]
    assert kinds == ["thread", "thread"]
    assert len(threads) == 3
    assert len(set(threads)) == 1
    assert threading.get_ident() not in threads
