import os
import sys

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "board.settings")
# A request passes from the loop to a thread and back several times, and each time waits this long for one that is reckoning.
sys.setswitchinterval(0.0005)
django.setup(set_prefix=False)

from board.limited_upload import LimitedBody  # noqa: E402 (settings come first)
from board.one_thread import InOneThread  # noqa: E402
from board.static_first import StaticFirst  # noqa: E402

application = StaticFirst(LimitedBody(InOneThread()))
