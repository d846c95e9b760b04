"""Where a request comes from, and what it was asked under."""

from django.conf import settings
from django.http import HttpRequest


def address_of(request: HttpRequest) -> str:
    """The visitor's network address, or "" where it is not known.

    Behind the proxy that `GARLANDRY_BEHIND_PROXY` declares it is the last one of `X-Forwarded-For`, which that
    proxy wrote; what stands before it, and the whole header without a proxy, is only what the visitor claims.
    """
    if settings.SECURE_PROXY_SSL_HEADER is not None:
        forwarded = request.META.get("HTTP_X_FORWARDED_FOR", "").rpartition(",")[2].strip()
        if forwarded:
            return str(forwarded)
    return str(request.META.get("REMOTE_ADDR") or "")


def site_of(request: HttpRequest) -> str:
    """What a link in a letter begins with: the site's address where it is set, else the one this was asked under."""
    return str(settings.SITE_ADDRESS) or f"{request.scheme}://{request.get_host()}"
