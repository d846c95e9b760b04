"""The client's own link: their quote, its pictures, its PDF, and their yes.

Whoever holds the link may see one quote and accept it; there is nothing to sign in to. What a link answers:

open        200, the quote and the form to accept it
accepted    200, the receipt above the quote, however often and wherever it is opened
expired     200, the quote as it was, with a word on whom to ask, and no form
withdrawn, replaced, ended      410, a kind page without the offer; a replaced quote leads on to the newest version
anything else                   404, one and the same page for a token that never was, is no more or cannot be

After thirty misses in a minute an address is answered 429 (`bookings.guessing`). No answer may be kept by a cache,
listed by a search engine or leave a trace of the token elsewhere, and a GET changes nothing but the list of openings.
"""

from collections.abc import Callable
from functools import partial, wraps
from ipaddress import ip_address
from typing import Any

from django.core.cache import cache
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_http_methods, require_safe

from bookings import actions, queries
from bookings.actions.letters import mail_acceptance
from bookings.choosing import Choice
from bookings.forms import AcceptForm
from bookings.guessing import count_miss, has_missed_too_often
from bookings.links import hash_of
from bookings.models import Booking, Quote, QuoteOpening
from bookings.queries.dates import client_dates, with_dates
from bookings.queries.money import still_to_pay
from studio.access import anyone
from studio.address import address_of, site_of
from studio.once import answer_once

GONE = ("withdrawn", "replaced", "ended")
PRIVATE = {
    "Referrer-Policy": "no-referrer",
    "X-Robots-Tag": "noindex, nofollow",
    "Cache-Control": "private, no-store",
}
PICTURE_POLICY = "default-src 'none'; img-src data:; style-src 'none'"

_STATE = ("number", "version", "valid_until", "withdrawn_at", "replaced_at", "link_salt")
"""What tells how a quote stands, and its name; with the stage of its job and whether it was accepted."""

ONE_OPENING_SECONDS = 60
"""Opened again within so long, a page is only loaded again."""

_BACK = "../"
"""From accept/ back to the quote. Relative, so that the answer kept with the form holds no token."""

View = Callable[..., HttpResponse]


def kept_private(view: View) -> View:
    """Every answer, errors included, stays between the client and the studio."""

    @wraps(view)
    def answer(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        response = view(request, *args, **kwargs)
        for name, value in PRIVATE.items():
            response.headers.setdefault(name, value)
        return response

    return answer


def found_by_token(view: View, *, shows_quote: bool = True) -> View:
    """Hand the view the quote with this token, looked up by its hash; answer for the ones there are not.

    A view that only hands out one of its papers reads no more of it than how it stands.
    """

    @wraps(view)
    def answer(request: HttpRequest, token: str, **kwargs: Any) -> HttpResponse:
        now, address = timezone.now(), address_of(request)
        if has_missed_too_often(address, at=now):
            response = render(request, "client/too_many.html", status=429)
            response.headers["Retry-After"] = "60"
            return response
        found: QuerySet[Quote] = Quote.objects.filter(link_hash=hash_of(token)).select_related("booking", "acceptance")
        if shows_quote:
            found = with_dates(found, today=timezone.localdate(now)).defer("pdf", "reasons")
        else:
            found = found.only(*_STATE, "booking__stage", "acceptance__id")
        quote = found.order_by().first()
        if quote is None:
            count_miss(address, at=now)
            return unknown(request)
        return view(request, quote, token, **kwargs)

    return answer


found_unshown = partial(found_by_token, shows_quote=False)


def unknown(request: HttpRequest) -> HttpResponse:
    """The one answer for every link that leads nowhere."""
    return render(request, "client/unknown.html", status=404)


def from_our_page(view: View) -> View:
    """Django's check of the form's own token, for a page that sends no referrer.

    Such a page's browser says `Origin: null` when it sends a form, which Django would take for another site. It is
    read as no other site's here; a page elsewhere that hides its origin the same way has no token to send.
    """
    protected = csrf_protect(view)

    @csrf_exempt
    @wraps(view)
    def answer(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if request.META.get("HTTP_ORIGIN") == "null":
            request.META["HTTP_ORIGIN"] = f"{request.scheme}://{request.get_host()}"
        response = protected(request, *args, **kwargs)
        return render(request, "client/not_sent.html", status=403) if response.status_code == 403 else response

    return answer


@anyone
@kept_private
@require_safe
@found_by_token
def page(request: HttpRequest, quote: Quote, token: str) -> HttpResponse:
    """The quote as its state has it; being opened by anybody but the studio is written down."""
    state = queries.state_of(quote, today=timezone.localdate())
    if state not in GONE:
        _write_down(request, quote, QuoteOpening.What.PAGE)
    return _shown(request, quote, token, None, status=200)


@anyone
@kept_private
@from_our_page
@require_http_methods(["GET", "HEAD", "POST"])
@found_by_token
def accept(request: HttpRequest, quote: Quote, token: str) -> HttpResponse:
    """The yes. A second one, from this page or another, leads to the same receipt; so does opening this address."""
    today = timezone.localdate()
    if request.method != "POST" or queries.state_of(quote, today=today) == "accepted":
        return redirect(_BACK)
    offer = queries.offer_of(quote)
    if "show" in request.POST:
        # Nobody has accepted anything: without the script, this is how the total follows.
        form = AcceptForm(offer=offer, currency=quote.currency, name=request.POST.get("name", "")[:120])
        return _shown(request, quote, token, form, status=200, chosen=form.chosen(request.POST))
    form = AcceptForm(request.POST, offer=offer, currency=quote.currency)
    if not form.is_valid():
        return _shown(request, quote, token, form, status=422)

    def say_yes() -> str:
        actions.accept_quote(
            quote=quote,
            name=form.cleaned_data["name"],
            today=today,
            at=timezone.now(),
            address=_network_address(request),
            browser=request.headers.get("User-Agent", ""),
            choice=form.chosen(),
        )
        mail_acceptance(quote=quote, base=site_of(request), today=today, at=timezone.now())
        return _BACK

    try:
        return answer_once(request, say_yes)
    except actions.AcceptanceRefused:
        quote.refresh_from_db(fields=["withdrawn_at", "replaced_at"])
        quote.booking.refresh_from_db(fields=["stage"])
        return _shown(request, quote, token, form, status=422)


@anyone
@kept_private
@require_safe
@found_unshown
def pdf(request: HttpRequest, quote: Quote, token: str) -> HttpResponse:
    """The paper, byte for byte as it was issued."""
    if queries.state_of(quote, today=timezone.localdate()) in GONE:
        return _shown(request, quote, token, None, status=410)
    _write_down(request, quote, QuoteOpening.What.PDF)
    name = f"quote-{quote.number}-v{quote.version}.pdf"
    return HttpResponse(
        bytes(quote.pdf),
        content_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{name}"', "X-Content-Type-Options": "nosniff"},
    )


@anyone
@kept_private
@require_safe
@found_unshown
def picture(request: HttpRequest, quote: Quote, token: str, position: int) -> HttpResponse:
    """A piece's picture, which may neither load nor run anything."""
    if queries.state_of(quote, today=timezone.localdate()) in GONE:
        return _shown(request, quote, token, None, status=410)
    # Beyond this no database keeps a whole number, and no quote has as many pieces.
    drawn = quote.pieces.filter(position=position).values_list("picture", flat=True).first() if position < 10**6 else ""
    if not drawn:
        return unknown(request)
    return HttpResponse(
        drawn,
        content_type="image/svg+xml",
        headers={"Content-Security-Policy": PICTURE_POLICY, "X-Content-Type-Options": "nosniff"},
    )


def _shown(
    request: HttpRequest,
    quote: Quote,
    token: str,
    form: AcceptForm | None,
    *,
    status: int,
    chosen: Choice | None = None,
) -> HttpResponse:
    """The quote with its form or its receipt, or the kind page of one that is gone (always 410).

    What is shown as chosen is `chosen`, else what the form holds, else the first choice; once accepted, what was.
    """
    state = queries.state_of(quote, today=timezone.localdate())
    if state in GONE:
        context = {"quote": quote, "state": state, "newest": _newest_path(quote)}
        return render(request, "client/gone.html", context, status=410)
    offer = queries.offer_of(quote)
    form = form or AcceptForm(offer=offer, currency=quote.currency)
    is_settled = state == "accepted"
    choice = queries.choice_of(quote) if is_settled else chosen or form.chosen()
    context = {
        "quote": quote,
        "told": quote.told,
        "token": token,
        "state": state,
        "dates": client_dates(quote, today=timezone.localdate()),
        "form": form,
        "shown": queries.client_page(quote, offer, choice, is_settled=is_settled),
    }
    if is_settled:
        context |= _receipt(quote)
    return render(request, "client/quote.html", context, status=status)


def _receipt(quote: Quote) -> dict[str, Any]:
    """What a client who said yes is told: what is owed, and whether anything has happened since."""
    return {
        "dues": still_to_pay(quote.pk, quote.booking_id),
        "is_cancelled": quote.booking.stage == Booking.Stage.CANCELLED,
        "newest": _newest_path(quote) if quote.replaced_at else None,
    }


def _newest_path(quote: Quote) -> str | None:
    """Where the newest version of a replaced quote is, as long as there is one to be seen."""
    if quote.replaced_at is None:
        return None
    newest = (
        Quote.objects.filter(booking=quote.booking_id, number=quote.number, version__gt=quote.version)
        .filter(withdrawn_at__isnull=True)
        .only("link_salt")
        .order_by("-version")
        .first()
    )
    return queries.link_of(newest) if newest else None


def _write_down(request: HttpRequest, quote: Quote, what: str) -> None:
    """Note the opening, unless it is only asked about, a page loaded again, or the studio looks itself."""
    # Each process of the server remembers for itself: at worst a page loaded again is noted once more.
    lately = f"quote-opened:{quote.pk}:{what}"
    if request.method != "GET" or cache.get(lately) or request.user.is_authenticated:
        return
    actions.record_opening(quote=quote, what=what, at=timezone.now())
    cache.set(lately, True, timeout=ONE_OPENING_SECONDS)


def _network_address(request: HttpRequest) -> str | None:
    """The visitor's address where it is one: behind some servers it is only the name of a socket."""
    try:
        return str(ip_address(address_of(request)))
    except ValueError:
        return None
