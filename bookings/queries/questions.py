"""What clients asked and nobody has answered, and a booking's letters and questions on its page."""

from dataclasses import dataclass
from datetime import date

from django.db.models import QuerySet

from bookings.letters import Purpose
from bookings.models import Booking, Question
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


def post_card(booking: Booking, *, today: date) -> PostCard:
    """The booking's questions and letters."""
    return PostCard(
        questions=list(booking.questions.as_asked().select_related("answered_by")),
        letters=list(letters_about(booking.pk)[:MOST_LETTERS]),
        can_write=can_be_written(booking, today=today),
        has_address=bool(booking.client.email),
    )
