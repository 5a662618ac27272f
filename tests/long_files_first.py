"""A plugin: with several processes, long files are dealt out first, so that no core is idle while another finishes one; and two of
the processes take those that drive a browser, as long as there is anything else for the others."""

import pytest
from xdist.scheduler import LoadFileScheduling

# By beginnings of their paths. Whoever has the first file makes the demo board; what stands between it and the other browser tests
# needs none, and keeps the others at work until it is made.
FIRST = (
    "tests/browser/test_accessible", "tests/flow/test_u", "tests/flow/", "tests/vision/test_page_registration",
    "tests/vision/test_panel_frames", "tests/setup/test_serve", "tests/vision/test_change_map", "tests/api/test_described",
    "tests/api/test_permissions", "tests/api/test_class_permissions", "tests/fixtures/", "tests/browser/", "tests/worker/",
    "tests/vision/",
)
BROWSER = "tests/browser/"
# Each process that drives one starts a whole Underblue and a browser: 9 s of CPU before its first test (own measurement).
MOST_BROWSERS = 2


class FewBrowsers(LoadFileScheduling):
    def _assign_work_unit(self, node: object) -> None:
        if node not in self.nodes[:MOST_BROWSERS]:
            other = next((file for file in self.workqueue if not file.startswith(BROWSER)), None)
            if other:
                self.workqueue.move_to_end(other, last=False)
        super()._assign_work_unit(node)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: object) -> LoadFileScheduling | None:
    return FewBrowsers(config, log) if config.getvalue("dist") == "loadfile" else None


def place(item: pytest.Item) -> int:
    return next((i for i, beginning in enumerate(FIRST) if item.nodeid.startswith(beginning)), len(FIRST))


def pytest_configure(config: pytest.Config) -> None:
    # Otherwise files are dealt out by how many tests they hold, and those with few long ones come last.
    config.option.loadscopereorder = False


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=place)
