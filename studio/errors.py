"""Pages for requests that went wrong before a view could answer."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render


def csrf_failure(request: HttpRequest, reason: str = "") -> HttpResponse:
    """The form was not ours, or its session has ended: say so, and keep nothing."""
    return render(request, "csrf_failure.html", status=403)
