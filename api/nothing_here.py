from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.views import APIView

from board.errors import NotFound


class NothingHere(APIView):
    """Every address under the API that is no endpoint, so that this error is a problem document too."""

    schema = None
    authentication_classes = []
    permission_classes = [AllowAny]

    def initial(self, request: Request, *args: object, **kwargs: object) -> None:
        raise NotFound("There is no such address in this API; /api/v1/schema describes those there are.")
