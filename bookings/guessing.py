"""Guessing quote links is slow: after thirty misses in a minute an address is answered nothing more for that minute.

The misses are counted in Django's cache. With the cache in memory each process of the server counts for itself, so
what is let through is thirty times the processes: enough, for a token has 192 bits.
"""

from datetime import datetime

from django.core.cache import cache

MOST_MISSES = 30
"""Misses of one address in one minute of the clock."""

_KEPT_SECONDS = 120


def _key(address: str, at: datetime) -> str:
    return f"quote-link-misses:{address.replace(' ', '')[:60]}:{at:%Y%m%d%H%M}"


def has_missed_too_often(address: str, *, at: datetime) -> bool:
    """Whether this address has used up its misses for now."""
    misses: int = cache.get(_key(address, at), 0)
    return misses >= MOST_MISSES


def count_miss(address: str, *, at: datetime) -> None:
    """Write one more miss down."""
    key = _key(address, at)
    cache.add(key, 0, timeout=_KEPT_SECONDS)
    try:
        cache.incr(key)
    except ValueError:
        # A full cache may have thrown the counter out between the two lines.
        cache.set(key, 1, timeout=_KEPT_SECONDS)
