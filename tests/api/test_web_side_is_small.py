"""After every endpoint was called, a web process has loaded neither OpenCV nor NumPy: no decoder is in reach of a request."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

from tests.made_once import empty_folder

ROOT = Path(__file__).resolve().parent.parent.parent
CALL_ALL = """
import sys
import django
django.setup()
from django.test.utils import setup_test_environment
setup_test_environment()
from django.urls import reverse
from tests.conftest import make_cast
from tests.api.world import make_world
from tests.api.route_table import routes
from tests.api.called_routes import call_class_route, call_route
from tests.api.class_route_table import CLASS_TABLE
from tests.api.class_world import make_class_world
from board.actions.send_job import keeping_all
with keeping_all():
    world = make_world(make_cast())
    statuses = {route: call_route(world, *route) for route in routes() if route not in CLASS_TABLE}
    in_class = make_class_world()
    statuses |= {route: call_class_route(in_class, *route) for route in CLASS_TABLE}
    from django.test import Client
    client = Client()
    client.force_login(world.cast.people["owner"])
    page = f"/pages/{world.cast.page.pk}"
    for path in ("/boards", f"/boards/{world.cast.board.pk}", page, f"{page}/compare", "/sign-in"):
        statuses[path] = client.get(path).status_code
bad = {route: status for route, status in statuses.items() if status >= 500 or status == 405}
print("CALLED", len(statuses), "BAD", bad, "LOADED", sorted({"cv2", "numpy", "scipy"} & set(sys.modules)))
"""


def test_neither_opencv_nor_numpy_is_loaded_by_any_endpoint(tmp_path):
    shutil.copytree(empty_folder(), tmp_path, dirs_exist_ok=True)
    environment = {**os.environ, "UNDERBLUE_VAR": str(tmp_path), "DJANGO_SETTINGS_MODULE": "board.settings"}
    run = subprocess.run(
        [sys.executable, "-c", CALL_ALL], cwd=ROOT, env=environment, capture_output=True, text=True, timeout=120, check=False
    )
    last = run.stdout.strip().splitlines()[-1] if run.stdout else run.stderr[-2000:]
    assert last.endswith("BAD {} LOADED []"), last + run.stderr[-1500:]
    assert int(last.split()[1]) > 70
