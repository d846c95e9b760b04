"""What every template knows."""

from typing import Any

from django.http import HttpRequest

from studio.models import Studio


def studio(request: HttpRequest) -> dict[str, Any]:
    """The studio, and whether the reader may see money."""
    user = getattr(request, "user", None)
    return {
        "studio": getattr(request, "studio", None) or Studio.objects.current(),
        "shows_money": bool(user and user.is_authenticated and user.is_owner),
    }
