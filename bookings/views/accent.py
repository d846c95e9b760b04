"""The studio's own colour as a style sheet: pages may hold no styles of their own."""

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from bookings.accent import screen_rules, why_unreadable
from studio.access import anyone

_FOR_A_YEAR = "public, max-age=31536000, immutable"


@anyone
@require_safe
def colours(request: HttpRequest, accent: str) -> HttpResponse:
    """The tones of a colour that can be read, by its six digits.

    The address says all there is, so it never changes and a client's browser may keep it; whoever is signed in is
    answered as everywhere.
    """
    if len(accent) != 6 or why_unreadable(accent) or accent != accent.lower():
        raise Http404("That is no colour a page can be read in.")
    headers = {} if request.user.is_authenticated else {"Cache-Control": _FOR_A_YEAR}
    return HttpResponse(screen_rules(f"#{accent}"), content_type="text/css; charset=utf-8", headers=headers)
