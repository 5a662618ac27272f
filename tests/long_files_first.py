"""A plugin: with several processes, long files are dealt out first, so that no core is idle while another finishes one."""

import pytest

# By beginnings of their paths. Whoever has the first file makes the demo board; what stands between it and the other browser tests
# needs none, and keeps the others at work until it is made.
FIRST = (
    "tests/browser/test_accessible", "tests/flow/test_u", "tests/flow/", "tests/vision/test_page_registration",
    "tests/vision/test_panel_frames", "tests/setup/test_serve", "tests/vision/test_change_map", "tests/api/test_described",
    "tests/api/test_permissions", "tests/api/test_class_permissions", "tests/fixtures/", "tests/browser/", "tests/worker/",
    "tests/vision/",
)


def place(item: pytest.Item) -> int:
    return next((i for i, beginning in enumerate(FIRST) if item.nodeid.startswith(beginning)), len(FIRST))


def pytest_configure(config: pytest.Config) -> None:
    # Otherwise files are dealt out by how many tests they hold, and those with few long ones come last.
    config.option.loadscopereorder = False


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=place)
