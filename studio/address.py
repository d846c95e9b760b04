"""Where a request comes from."""

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
