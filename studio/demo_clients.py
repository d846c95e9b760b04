"""The demo's clients: what one must not come near, what another agreed to, and one who is written down twice."""

from datetime import date, datetime, timedelta

from bookings import actions
from bookings.models import Booking, Client
from studio.models import User

ASKED_BEFORE = timedelta(days=400)


def know_the_clients(jobs: list[Booking], *, by: User, today: date, at: datetime) -> None:
    """`jobs` are the demo's, in their order: the ferry office, the winter gala, the barn wedding, the school."""
    ferry, gala, barn, school = (Client.objects.get(pk=job.client_id) for job in jobs[:4])
    _know(ferry, {"found_us": "they pass our shop", "notes": "Invoices go to the harbour master."}, by, at)
    _know(gala, {"found_us": "the film society of last year"}, by, at)
    _know(barn, {"found_us": "a friend’s wedding"}, by, at)
    _know(school, {"latex_allergy": True, "notes": "The allergy is a child’s. The school nurse decides."}, by, at)
    actions.note_consent(
        client=gala, what="photos", is_given=True, how="wrote", on=today - timedelta(days=20), by=by, at=at
    )
    actions.note_consent(
        client=barn, what="offers", is_given=False, how="said", on=today - timedelta(days=3), by=by, at=at
    )
    before = at - ASKED_BEFORE
    again = actions.log_enquiry(
        client={"name": "I. Aldana", "phone": "555-0171", "email": "Ines@filmsociety.example"},
        job={"title": "Lantern night", "place": "Corn Hall, Port Alder", "wants": "Something that glows over the bar"},
        by=by,
        at=before,
    )
    actions.lose_booking(booking=again, why="The evening was called off.", by=by, at=before)


def _know(client: Client, given: dict[str, object], by: User, at: datetime) -> None:
    actions.edit_client(client=client, given=given, by=by, at=at)
