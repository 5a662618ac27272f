import os
import sys

from django.core.asgi import get_asgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "board.settings")
# A request passes from the loop to a thread and back many times, and each time waits this long for one that is reckoning.
sys.setswitchinterval(0.0005)
django_application = get_asgi_application()

from board.limited_upload import LimitedBody  # noqa: E402 (settings come first)
from board.static_first import StaticFirst  # noqa: E402

application = StaticFirst(LimitedBody(django_application))
