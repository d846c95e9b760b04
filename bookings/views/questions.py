"""A client's question on their own page, and the studio's answer."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from bookings import queries
from bookings.actions import questions as actions
from bookings.forms.letters import AnswerForm, AskForm
from bookings.models import Question, Quote
from bookings.views.client_link import GONE, found_by_token, from_our_page, kept_private
from studio.access import StudioRequest, anyone, owner_only
from studio.address import site_of
from studio.once import answer_once

# From ask/ back to the quote. Relative, so that the answer kept with the form holds no token.
_BACK = "../#questions"


@anyone
@kept_private
@from_our_page
@require_http_methods(["GET", "HEAD", "POST"])
@found_by_token
def ask(request: HttpRequest, quote: Quote, token: str) -> HttpResponse:
    """Ask the studio something: before the yes and after it, as long as the quote can be seen."""
    if queries.state_of(quote, today=timezone.localdate()) in GONE:
        return redirect("../")
    form = AskForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():

        def write_down() -> str:
            at = timezone.now()
            today = timezone.localdate(at)
            actions.ask(quote=quote, text=form.cleaned_data["text"], base=site_of(request), today=today, at=at)
            return _BACK

        try:
            return answer_once(request, write_down)
        except actions.TooManyQuestions as refusal:
            form.add_error(None, str(refusal))
    context = {"quote": quote, "token": token, "form": form}
    return render(request, "client/ask.html", context, status=422 if form.errors else 200)


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def answer(request: StudioRequest, question_id: int) -> HttpResponse:
    """Answer a question, here and by mail."""
    question = get_object_or_404(Question.objects.select_related("booking__client", "answered_by"), pk=question_id)
    form = AnswerForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():

        def write_down() -> str:
            at = timezone.now()
            _, mail = actions.answer(
                question=question,
                text=form.cleaned_data["text"],
                base=site_of(request),
                today=timezone.localdate(at),
                by=request.user,
                at=at,
            )
            said = "and mailed" if mail else "; no e-mail address is known, so nothing was mailed"
            messages.success(request, f"Answered on the client’s page {said}.".replace(" ;", ";"))
            return f"{reverse('bookings:detail', args=[question.booking_id])}#post"

        try:
            return answer_once(request, write_down)
        except actions.AlreadyAnswered as refusal:
            question.refresh_from_db()
            form.add_error(None, str(refusal))
    context = {"question": question, "form": form}
    return render(request, "bookings/question.html", context, status=422 if form.errors else 200)
