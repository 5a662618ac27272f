import pytest

from tests.api.world import World, make_world
from tests.conftest import Cast


@pytest.fixture
def world(cast: Cast) -> World:
    return make_world(cast)
