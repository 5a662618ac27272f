"""A request is answered in one thread, from its first middleware to its view: Django would pass it to a thread for each of them."""

from asgiref.sync import sync_to_async
from django.core.handlers.asgi import ASGIHandler
from django.http import HttpRequest
from django.http.response import HttpResponseBase


class InOneThread(ASGIHandler):
    def load_middleware(self, is_async: bool = False) -> None:
        super().load_middleware(is_async=False)

    async def get_response_async(self, request: HttpRequest) -> HttpResponseBase:
        return await sync_to_async(self.get_response)(request)
