"""A quote's link is a key, so no log shows it."""

import logging

import pytest

from studio.logs import MaskLinkTokens

TOKEN = "j3WH1AECe6j3WH1AECe6j3WH1AECe6ab"


@pytest.mark.parametrize(
    ("message", "args"),
    [
        pytest.param('"%s" %s %s', (f"GET /q/{TOKEN}/ HTTP/1.1", "200", "512"), id="an access line"),
        pytest.param(f"Not Found: /q/{TOKEN}/quote.pdf", (), id="a warning"),
    ],
)
def test_a_link_is_masked_wherever_it_stands_in_a_record(message, args):
    record = logging.LogRecord("django.server", logging.INFO, __file__, 1, message, args, None)
    assert MaskLinkTokens().filter(record)
    assert TOKEN not in record.getMessage()
    assert "/q/…" in record.getMessage()


@pytest.mark.parametrize("name", ["", "django.server"])
def test_every_handler_that_writes_requests_masks_links(name):
    handlers = [handler for handler in logging.getLogger(name).handlers if type(handler) is logging.StreamHandler]
    assert handlers
    assert all(any(isinstance(mask, MaskLinkTokens) for mask in handler.filters) for handler in handlers)
