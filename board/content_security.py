"""The content security policy: nothing runs or is drawn on a screen but what this server sends as a file."""

from collections.abc import Callable
from typing import Any

from asgiref.sync import iscoroutinefunction, markcoroutinefunction
from django.http import HttpRequest, HttpResponse

POLICY = "; ".join(
    [
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' blob: data:",
        "font-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "frame-ancestors 'none'",
        "base-uri 'none'",
    ]
)


class ContentSecurityMiddleware:
    sync_capable = async_capable = True

    def __init__(self, get_response: Callable) -> None:
        self.get_response = get_response
        if iscoroutinefunction(get_response):
            markcoroutinefunction(self)

    def __call__(self, request: HttpRequest) -> Any:
        if iscoroutinefunction(self):
            return self._answer_async(request)
        return self._with_policy(self.get_response(request))

    async def _answer_async(self, request: HttpRequest) -> HttpResponse:
        return self._with_policy(await self.get_response(request))

    @staticmethod
    def _with_policy(response: HttpResponse) -> HttpResponse:
        response.headers.setdefault("Content-Security-Policy", POLICY)
        response.headers.setdefault("Referrer-Policy", "same-origin")
        return response
