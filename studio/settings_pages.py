"""The studio's settings: who it is, what it costs, who works here."""

from collections.abc import Callable
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.core.paginator import Paginator
from django.http import HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, render, resolve_url
from django.utils import timezone
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from bookings.actions import compare_phones_again
from estimating.models import Rates
from studio import people
from studio.access import StudioRequest, owner_and_crew, owner_only
from studio.doors import COMMON_CURRENCIES
from studio.editions import StaleForm, edition_of, keep_to_edition, seen_by, tell_stale
from studio.form_fields import zone_names
from studio.models import Studio, User
from studio.once import answer_once
from studio.rates_form import RatesForm
from studio.settings_forms import (
    NewPersonForm,
    OwnPasswordForm,
    PasswordForm,
    PersonForm,
    StudioForm,
)

PEOPLE_A_PAGE = 50


either = require_http_methods(["GET", "HEAD", "POST"])


def _form_page(
    request: StudioRequest,
    form: forms.BaseForm,
    template: str,
    act: Callable[[], str],
    *,
    edition: Callable[[], str] = str,
    saved: Callable[[], forms.BaseForm] | None = None,
    **context: Any,
) -> HttpResponse:
    """Show the form; on a good one do `act` once and go where it says; on a bad one show it again, 422.

    `edition` reads that of what the form changes, where two may change the same, and `saved` is the form as it would be
    opened by now.
    """
    if request.method == "POST" and form.is_valid():
        try:
            return answer_once(request, act)
        except StaleForm as stale:
            tell_stale(form, stale, saved() if saved is not None else form)
        except people.LastOwner as refusal:
            form.add_error("role", str(refusal))
        except people.NameTaken as refusal:
            form.add_error("username", str(refusal))
    context |= {"form": form, "seen": seen_by(request, form, edition())}
    return render(request, template, context, status=422 if form.is_bound else 200)


@owner_and_crew
@require_safe
def hub(request: StudioRequest) -> HttpResponse:
    """Where each setting is; crew find their own password here."""
    return render(request, "studio/settings.html")


@owner_only
@either
def studio_page(request: StudioRequest) -> HttpResponse:
    """Name, address, currency, measures, time zone, terms."""
    form = StudioForm(request.POST or None, instance=Studio.objects.current())

    def act() -> str:
        keep_to_edition(request, "The studio", _studio_edition)
        form.save()
        # Where the studio is says what a number without a country means.
        compare_phones_again()
        messages.success(request, "The studio's details are saved. Quotes already sent keep what they said.")
        return resolve_url("settings-studio")

    def saved() -> StudioForm:
        return StudioForm(instance=Studio.objects.current())

    lists = {"zones": zone_names(), "currencies": COMMON_CURRENCIES}
    return _form_page(request, form, "studio/studio_form.html", act, edition=_studio_edition, saved=saved, **lists)


def _studio_edition() -> str:
    return edition_of(Studio.objects.current(), only=frozenset(StudioForm.Meta.fields))


@owner_only
@either
def rates_page(request: StudioRequest) -> HttpResponse:
    """Every rate behind an estimate."""
    rates = Rates.objects.current()

    def form_of(sent: QueryDict | None, of: Rates) -> RatesForm:
        return RatesForm(sent, rates=of, currency=request.studio.currency, measures=request.studio.system)

    def saved() -> RatesForm:
        return form_of(None, Rates.objects.current())

    form = form_of(request.POST or None, rates)

    def act() -> str:
        keep_to_edition(request, "The rates", _rates_edition)
        for name, value in form.cleaned_data.items():
            setattr(rates, name, value)
        rates.save()
        messages.success(
            request, "The rates are saved. Estimates use them from now on; quotes already sent do not change."
        )
        return resolve_url("settings-rates")

    return _form_page(request, form, "studio/rates.html", act, edition=_rates_edition, saved=saved)


def _rates_edition() -> str:
    return edition_of(Rates.objects.current())


@owner_only
@require_safe
def people_page(request: StudioRequest) -> HttpResponse:
    """Everybody with an account: open ones first, owners before crew."""
    everybody = User.objects.order_by("-is_active", "-role", "first_name", "username", "pk")
    page = Paginator(everybody, PEOPLE_A_PAGE).get_page(request.GET.get("page"))
    return render(request, "studio/people.html", {"page": page})


@owner_only
@sensitive_post_parameters("password", "password_again")
@either
def new_person(request: StudioRequest) -> HttpResponse:
    """Give somebody an account."""
    form = NewPersonForm(request.POST or None)

    def act() -> str:
        asked = {name: form.cleaned_data[name] for name in ("name", "username", "role", "password")}
        person = people.add_person(**asked, by=request.user, at=timezone.now())
        messages.success(request, f"{person.shown_name} can sign in now, as {person.username}.")
        return resolve_url("settings-people")

    return _form_page(request, form, "studio/new_person.html", act)


@owner_only
@either
def person_page(request: StudioRequest, person_id: int) -> HttpResponse:
    """Somebody's name and role, their password, and closing their account."""
    person = get_object_or_404(User, pk=person_id)
    form = _person_form(person, request.POST or None)

    def edition() -> str:
        return _edition_of_person(User.objects.get(pk=person_id))

    def act() -> str:
        keep_to_edition(request, person.shown_name, edition)
        people.change_person(person=person, **form.cleaned_data, by=request.user, at=timezone.now())
        messages.success(request, f"{person.shown_name} is saved.")
        return resolve_url("settings-people")

    def saved() -> PersonForm:
        return _person_form(User.objects.get(pk=person_id))

    return _form_page(request, form, "studio/person.html", act, edition=edition, saved=saved, person=person)


def _person_form(person: User, sent: QueryDict | None = None) -> PersonForm:
    return PersonForm(sent, initial={"name": person.first_name, "role": person.role})


def _edition_of_person(person: User) -> str:
    return edition_of(person, only=frozenset({"first_name", "role"}))


@owner_only
@require_POST
def close_account(request: StudioRequest, person_id: int) -> HttpResponse:
    """Close somebody's account; the last owner's stays open."""
    person = get_object_or_404(User, pk=person_id)

    def act() -> str:
        people.close_account(person=person, by=request.user, at=timezone.now())
        messages.success(request, f"{person.shown_name}'s account is closed, and they are signed out everywhere.")
        return resolve_url("settings-people")

    try:
        return answer_once(request, act)
    except people.LastOwner as refusal:
        context = {
            "form": _person_form(person),
            "person": person,
            "why_not_closed": str(refusal),
            "seen": _edition_of_person(person),
        }
        return render(request, "studio/person.html", context, status=422)


@owner_only
@require_POST
def open_account(request: StudioRequest, person_id: int) -> HttpResponse:
    """Let somebody back in."""
    person = get_object_or_404(User, pk=person_id)

    def act() -> str:
        people.open_account(person=person, by=request.user, at=timezone.now())
        messages.success(request, f"{person.shown_name} can sign in again.")
        return resolve_url("settings-people")

    return answer_once(request, act)


def _password_page(request: StudioRequest, form: PasswordForm, person: User, then: str) -> HttpResponse:
    def act() -> str:
        people.set_password(person=person, password=form.cleaned_data["password"], by=request.user, at=timezone.now())
        if person == request.user:
            update_session_auth_hash(request, person)
            messages.success(request, "Your new password is set. Other devices are signed out.")
        else:
            messages.success(request, f"{person.shown_name} has a new password and is signed out everywhere.")
        return resolve_url(then)

    return _form_page(request, form, "studio/password.html", act, person=person)


@owner_only
@sensitive_post_parameters("password", "password_again")
@either
def person_password(request: StudioRequest, person_id: int) -> HttpResponse:
    """Set somebody's password, as when they forgot it."""
    person = get_object_or_404(User, pk=person_id)
    return _password_page(request, PasswordForm(request.POST or None, person=person), person, "settings-people")


@owner_and_crew
@sensitive_post_parameters("old_password", "password", "password_again")
@either
def own_password(request: StudioRequest) -> HttpResponse:
    """Change one's own password."""
    person = get_object_or_404(User, pk=request.user.pk)
    return _password_page(request, OwnPasswordForm(request.POST or None, person=person), person, "settings")
