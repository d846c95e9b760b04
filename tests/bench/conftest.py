"""What is measured in a browser is measured on the server and in the browser that the journeys use."""

import pytest

from tests.journeys.conftest import chromium, demo_folder, demo_made, demo_studio

__all__ = ["chromium", "demo_folder", "demo_made", "demo_studio"]


@pytest.fixture(autouse=True)
def blank_paper() -> None:
    """Whatever is measured here is measured with the paper it makes."""
