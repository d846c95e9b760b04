"""What clients asked and nobody has answered, and a booking's letters and questions on its page."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.db.models import QuerySet

from bookings.letters import Purpose
from bookings.models import Booking, Question, Quote
from bookings.owing import Open
from bookings.queries.known import may_have
from bookings.queries.letters import can_be_written
from studio.models import OutgoingMail
from studio.outbox.queries import letters_about

MOST_LETTERS = 12


@dataclass(frozen=True, slots=True)
class PostCard:
    """What went between a client and the studio: questions, letters, and the letters that can be written now."""

    questions: list[Question]
    letters: list[OutgoingMail]
    can_write: list[Purpose]
    has_address: bool

    @property
    def waiting(self) -> int:
        """How many questions nobody has answered."""
        return sum(1 for question in self.questions if question.answered_at is None)


def waiting_questions() -> QuerySet[Question]:
    """Questions nobody has answered, the first asked first."""
    return Question.objects.waiting().as_asked().select_related("booking__client")


def post_card(
    booking: Booking, *, today: date, quotes: Sequence[Quote] | None = None, open_dues: Sequence[Open] | None = None
) -> PostCard:
    """The booking's questions and letters.

    `quotes` are all versions of its quote and `open_dues` what it owes, where the caller has read them.
    """
    asked, sent = may_have(booking, "questions"), may_have(booking, "letters")
    questions = Question.objects.filter(booking=booking).as_asked().select_related("answered_by")
    return PostCard(
        questions=list(questions) if asked else [],
        letters=list(letters_about(booking.pk)[:MOST_LETTERS]) if sent else [],
        can_write=can_be_written(booking, today=today, quotes=quotes, open_dues=open_dues),
        has_address=bool(booking.client.email),
    )
