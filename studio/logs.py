"""A quote's link is a key: it must not be readable in a log."""

import logging
import re

_TOKEN = re.compile(r"(/q/)[^/\s\"']+")


class MaskLinkTokens(logging.Filter):
    """Replaces the token in any `/q/<token>/` of a record before it is written."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Mask the record in place; always lets it through."""
        masked = _TOKEN.sub(r"\1…", record.getMessage())
        record.msg, record.args = masked, ()
        return True
