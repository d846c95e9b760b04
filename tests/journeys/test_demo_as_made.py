"""What the demo has in it before anybody looks."""

import sqlite3
from contextlib import closing


def test_the_demos_letters_lead_to_where_it_is_served(demo_made):
    with closing(sqlite3.connect(demo_made / "garlandry.sqlite3")) as database:
        assert database.execute("SELECT DISTINCT base FROM studio_outgoingmail").fetchall() == [
            ("http://127.0.0.1:8765",)
        ]
