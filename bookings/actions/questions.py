"""What a client asks on their page, and the answer."""

from datetime import date, datetime, timedelta

from django.db import transaction

from bookings.actions.jobs import write_history
from bookings.actions.letters import mail_answer, mail_question
from bookings.models import Booking, Question, Quote
from studio.models import OutgoingMail, User

MOST_WAITING = 5
"""Questions of one booking that may wait for an answer."""

MOST_A_DAY = 20
"""Questions of one booking in a day, answered or not."""


class TooManyQuestions(Exception):
    """No more can be asked for now; the message is a sentence for the client."""


class AlreadyAnswered(Exception):
    """Somebody else was quicker; the message is a sentence for the page."""


@transaction.atomic
def ask(*, quote: Quote, text: str, base: str, today: date, at: datetime) -> Question:
    """Write down what a client asks, and tell the studio. Raises TooManyQuestions."""
    booking = Booking.objects.select_for_update().get(pk=quote.booking_id)
    if booking.questions.waiting().count() >= MOST_WAITING:
        raise TooManyQuestions(
            f"You have asked {MOST_WAITING} things we have not answered yet. Give us a little time, or call us."
        )
    if booking.questions.filter(asked_at__gt=at - timedelta(days=1)).count() >= MOST_A_DAY:
        raise TooManyQuestions("That is a lot to ask in one day: call us, it is quicker.")
    question = Question.objects.create(booking=booking, quote=quote, text=text, asked_at=at)
    mail_question(question=question, base=base, today=today, at=at)
    # What was asked may name a price, and crew read what happened.
    write_history(booking, f"{booking.client.shown_name} asked a question.", at=at)
    return question


@transaction.atomic
def answer(
    *, question: Question, text: str, base: str, today: date, by: User, at: datetime
) -> tuple[Question, OutgoingMail | None]:
    """Answer on the client's page and by mail, where they have an address. Raises AlreadyAnswered."""
    booking = Booking.objects.select_for_update().get(pk=question.booking_id)
    question = Question.objects.select_related("quote", "answered_by").get(pk=question.pk)
    if question.answered_at is not None:
        who = question.answered_by.shown_name if question.answered_by else "Somebody"
        raise AlreadyAnswered(f"{who} has answered this already: read what was said before you write more.")
    question.booking = booking
    question.answer, question.answered_at, question.answered_by = text, at, by
    question.save(update_fields=["answer", "answered_at", "answered_by"])
    write_history(booking, "A question was answered.", at=at, by=by)
    return question, mail_answer(question=question, base=base, today=today, by=by, at=at)
