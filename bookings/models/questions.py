"""What a client asked on their page, and what the studio answered."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from bookings.models.jobs import Booking
from bookings.models.quotes import Quote


class QuestionQuerySet(models.QuerySet["Question"]):
    """Questions asked for by whether they were answered."""

    def waiting(self) -> "QuestionQuerySet":
        """Nobody has answered yet."""
        return self.filter(answered_at__isnull=True)

    def as_asked(self) -> "QuestionQuerySet":
        """The first first."""
        return self.order_by("asked_at", "pk")


class Question(models.Model):
    """Something a client asked through the link of a quote."""

    booking = models.ForeignKey(Booking, on_delete=models.PROTECT, related_name="questions")
    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="+", help_text="Whose link it came by.")
    text = models.TextField(max_length=1000)
    asked_at = models.DateTimeField()
    answer = models.TextField(max_length=2000, blank=True)
    answered_at = models.DateTimeField(null=True, blank=True)
    answered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )

    objects = QuestionQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=~Q(text=""), name="a_question_asks_something"),
            models.CheckConstraint(
                condition=Q(answer="", answered_at__isnull=True, answered_by__isnull=True)
                | (~Q(answer="") & Q(answered_at__isnull=False, answered_by__isnull=False)),
                name="an_answer_says_who_and_when",
            ),
        ]
        indexes = [models.Index(fields=["answered_at", "asked_at"], name="questions_by_answer_and_time")]

    def __str__(self) -> str:
        return self.text[:60]
