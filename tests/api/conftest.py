from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.api.class_world import ClassWorld, make_class_world
from tests.api.lasting import find_files_again, lasting
from tests.api.world import WORLD, World
from tests.conftest import Cast


@pytest.fixture
def world(cast: Cast) -> World:
    return WORLD.stand(cast)


@pytest.fixture(scope="module")
def made_class(django_db_setup: None, django_db_blocker: Any, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple]:
    folder = tmp_path_factory.mktemp("files")
    with lasting(make_class_world, django_db_blocker, folder) as world:
        yield world, folder


@pytest.fixture
def in_class(made_class: tuple, db: None, files_of_their_own: None, tmp_path: Path) -> ClassWorld:
    """A class with three students who handed in, and a round of critique among them."""
    find_files_again(made_class[1], tmp_path / "files")
    return made_class[0]
