"""What every request passes through."""

from collections.abc import Callable
from typing import Any
from zoneinfo import ZoneInfo

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.cache import patch_vary_headers

from studio.access import Access, access_of
from studio.models import Studio
from studio.pdf import PaperTooLarge

Answer = Callable[[HttpRequest], HttpResponse]

CONTENT_SECURITY_POLICY = "; ".join(
    [
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data:",
        "font-src 'self'",
        "connect-src 'self'",
        "manifest-src 'self'",
        "worker-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "object-src 'none'",
        "frame-ancestors 'none'",
    ]
)


# Django sets the same ones, but not where a request is refused before it gets that far (a host that is not ours).
ALWAYS = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}


class SecurityHeadersMiddleware:
    """The policy that lets a page run only our own files, on every answer, errors included."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer, with the headers added where the view has not set its own."""
        response = self.get_response(request)
        for name, value in ALWAYS.items():
            response.headers.setdefault(name, value)
        if getattr(request, "user", None) is not None and request.user.is_authenticated:
            # A shared phone keeps no page of the last person's after signing out.
            response.headers.setdefault("Cache-Control", "private, no-store")
        return response


class HtmxAnswersMiddleware:
    """An htmx request gets no page swapped into a part: a redirect becomes a page change."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer, with a redirect turned into the header that htmx follows as a whole page."""
        response = self.get_response(request)
        patch_vary_headers(response, ("HX-Request",))
        if getattr(request, "htmx", False) and response.status_code in (301, 302) and "Location" in response.headers:
            response.headers["HX-Redirect"] = response.headers["Location"]
            del response.headers["Location"]
            response.status_code = 204
        return response


class AccessMiddleware:
    """Holds every view to the policy it declares; no policy, no entry."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass through: the work is done once the view is known."""
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, view: Callable[..., Any], args: Any, kwargs: Any
    ) -> HttpResponse | None:
        """None lets the view run; a stranger is sent to sign in, crew are refused the owner's pages."""
        policy = access_of(view)
        if policy is Access.ANYONE:
            return None
        if not request.user.is_authenticated:
            return redirect_to_login(request.get_full_path())
        if policy is Access.CREW or (policy is Access.OWNER and request.user.is_owner):
            return None
        raise PermissionDenied("This page is the owner's." if policy else "This page names no policy.")


class StudioClockMiddleware:
    """Times are stored in UTC and shown in the studio's own zone."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer inside the studio's time zone, and leave none behind in the thread."""
        request.studio = Studio.objects.current()  # type: ignore[attr-defined]
        with timezone.override(ZoneInfo(request.studio.time_zone)):  # type: ignore[attr-defined]
            return self.get_response(request)


class PaperMiddleware:
    """A paper beyond what one may be is refused with the sentence that says why, not with a fault of ours."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass through: the work is done where a view raises."""
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        """The page for a paper that is too large; anything else goes on."""
        if not isinstance(exception, PaperTooLarge):
            return None
        return render(request, "paper_too_large.html", {"why": exception.faults[0]}, status=422)
