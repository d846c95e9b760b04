"""A form as a browser sends it: opened first, so that it says which edition of what it changes somebody has seen."""

import re
from collections.abc import Mapping
from typing import Any

from django.test import Client as Browser


def edition_in(answer: Any) -> str:
    """The edition in the form on a page."""
    found = re.search(r'name="seen" value="([0-9a-f]*)"', answer.content.decode())
    assert found is not None, "there is no edition in the form"
    return found[1]


def send_opened(browser: Browser, address: str, typed: Mapping[str, Any], **how: Any) -> Any:
    """Open the page at an address, type, and send its form."""
    return browser.post(address, {"seen": edition_in(browser.get(address))} | dict(typed), **how)
