"""The list of jobs."""

from collections.abc import Mapping
from typing import NamedTuple

from django.db.models import F, Q, QuerySet

from bookings.models import Booking


class List(NamedTuple):
    """One choice of which jobs to show."""

    title: str
    stages: tuple[str, ...]


LISTS: Mapping[str, List] = {
    "current": List("Under way", ("enquiry", "quoted", "booked")),
    "enquiry": List("Enquiries", ("enquiry",)),
    "quoted": List("Quoted", ("quoted",)),
    "booked": List("Booked", ("booked",)),
    "past": List("Done, lost or cancelled", ("done", "lost", "cancelled")),
    "all": List("All of them", tuple(Booking.Stage.values)),
}


def bookings_list(which: str, search: str) -> QuerySet[Booking]:
    """Jobs of one list whose title, client, place or number fits `search`; dated ones first, the soonest first."""
    stages = LISTS.get(which, LISTS["current"]).stages
    found = Booking.objects.filter(stage__in=stages).select_related("client")
    for word in search.split():
        fits = (
            Q(title__icontains=word)
            | Q(place__icontains=word)
            | Q(client__name__icontains=word)
            | Q(client__phone__icontains=word)
            | Q(client__email__icontains=word)
        )
        if word.isascii() and word.isdigit() and len(word) < 10:
            fits |= Q(pk=int(word))
        found = found.filter(fits)
    return found.order_by(F("event_on").asc(nulls_last=True), "-created_at", "-pk")
