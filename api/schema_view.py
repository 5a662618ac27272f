from drf_spectacular.views import SpectacularAPIView
from rest_framework.permissions import AllowAny


class Schema(SpectacularAPIView):
    """This description, in OpenAPI 3.1."""

    schema = None
    authentication_classes = []
    permission_classes = [AllowAny]
