"""What is measured in a browser is measured on the server and in the browser that the journeys use."""

from tests.journeys.conftest import chromium, demo_folder, demo_made, demo_studio

__all__ = ["chromium", "demo_folder", "demo_made", "demo_studio"]
