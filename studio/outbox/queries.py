"""How the letters stand. Nothing here changes anything."""

from django.db.models import QuerySet

from studio.models import OutgoingMail

TROUBLED = (OutgoingMail.State.FAILED, OutgoingMail.State.RETURNED)


def letters_about(booking: int) -> QuerySet[OutgoingMail]:
    """A booking's letters without their words, the newest first."""
    return OutgoingMail.objects.filter(about=booking).defer("text").order_by("-made_at", "-pk")


def troubled_letters() -> QuerySet[OutgoingMail]:
    """Letters that did not go or came back, the oldest first: somebody has to look at them."""
    return OutgoingMail.objects.filter(state__in=TROUBLED).defer("text").order_by("made_at", "pk")


def all_letters() -> QuerySet[OutgoingMail]:
    """Every letter there is without its words, the newest first."""
    return OutgoingMail.objects.defer("text").order_by("-made_at", "-pk")
