"""Two actions that look, decide and write, one standing still before each of its statements in turn.

Whatever the order, they must come out as if one had come after the other. Both are our own actions, on PostgreSQL,
where they really run at once; SQLite lets one write at a time.
"""

import os

import pytest

from tests.races.scenes import counting, jobs, kit, orders, promises, shelf
from tests.races.scenes.ground import Done

pytestmark = pytest.mark.postgresql

SCENES = [scene for topic in (shelf, counting, promises, orders, kit, jobs) for scene in topic.SCENES]


@pytest.mark.parametrize("scene", SCENES, ids=lambda scene: scene.__name__)
def test_two_acts_come_out_as_if_one_came_after_the_other(scene, by, stage):
    """At a push an act stands before what writes or locks; by night before what only reads, too."""
    by_night = os.environ.get("GARLANDRY_CASES") == "nightly"
    assert stage.check_it_is_as_if_one_came_after_the_other(lambda: scene(Done(by)), at_writes=not by_night) > 4
