"""The doors: welcome (once), in, out."""

from django.contrib import messages
from django.contrib.auth import login, logout
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render, resolve_url
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from studio.access import anyone
from studio.address import address_of
from studio.door_forms import SignInForm, WelcomeForm
from studio.form_fields import zone_names
from studio.models import Submission
from studio.once import answer_once, key_of
from studio.setting_up import AlreadySetUp, is_set_up, set_up
from studio.throttle import TooManyTries, count_try, forget_tries, key_for

COMMON_CURRENCIES = ("AUD", "BRL", "CAD", "CHF", "EUR", "GBP", "INR", "JPY", "MXN", "NZD", "SEK", "USD", "ZAR")


def _next_page(request: HttpRequest) -> str:
    """Where they were going, if that is on this site; else this week."""
    wanted = request.POST.get("next") or request.GET.get("next") or ""
    ours = url_has_allowed_host_and_scheme(wanted, {request.get_host()}, require_https=request.is_secure())
    return wanted if ours else resolve_url("week")


@anyone
@sensitive_post_parameters("password")
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in(request: HttpRequest) -> HttpResponse:
    """Ask for a user name and a password; with no account yet there is a studio to set up first."""
    if request.method != "POST":
        if not is_set_up():
            return redirect("welcome")
        if request.user.is_authenticated:
            return HttpResponseRedirect(_next_page(request))
        return render(request, "studio/sign_in.html", {"form": SignInForm(request), "next": _next_page(request)})
    form = SignInForm(request, data=request.POST)
    username, password = request.POST.get("username", "").strip(), request.POST.get("password", "")
    key = key_for(username, address_of(request))
    try:
        if username and password:
            count_try(key=key, at=timezone.now())
    except TooManyTries as refusal:
        context = {"minutes": refusal.minutes, "next": _next_page(request)}
        answer = render(request, "studio/too_many_tries.html", context, status=429)
        answer.headers["Retry-After"] = str(refusal.minutes * 60)
        return answer
    if not form.is_valid():
        context = {"form": form, "next": _next_page(request)}
        return render(request, "studio/sign_in.html", context, status=422)
    forget_tries(key=key)
    login(request, form.get_user())
    return HttpResponseRedirect(_next_page(request))


@anyone
@never_cache
@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """End the session, and have the browser drop the pages it kept.

    Its storage stays: an enquiry typed without signal waits there, and must not be lost by signing out.
    """
    logout(request)
    messages.success(request, "You are signed out.")
    answer = redirect("login")
    answer.headers["Clear-Site-Data"] = '"cache"'
    return answer


@anyone
@sensitive_post_parameters("password", "password_again")
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def welcome(request: HttpRequest) -> HttpResponse:
    """Set the studio up. Open only while nobody has an account."""
    key = key_of(request)
    second_tap = request.method == "POST" and key is not None and Submission.objects.filter(key=key).exists()
    if is_set_up() and not second_tap:
        raise Http404
    form = WelcomeForm(request.POST or None)
    if request.method == "POST" and (second_tap or form.is_valid()):

        def act() -> str:
            login(request, set_up(form.beginning(), at=timezone.now()))
            messages.success(request, "Your studio is ready. Log the first enquiry, or count your shelf.")
            return resolve_url("week")

        try:
            return answer_once(request, act)
        except AlreadySetUp as refusal:
            messages.error(request, str(refusal))
            return redirect("login")
    context = {"form": form, "zones": zone_names(), "currencies": COMMON_CURRENCIES}
    return render(request, "studio/welcome.html", context, status=422 if form.is_bound else 200)
