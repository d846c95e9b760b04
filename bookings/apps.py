from django.apps import AppConfig


class BookingsConfig(AppConfig):
    name = "bookings"

    def ready(self) -> None:
        """Say where letters about bookings and quotes lead."""
        from django.urls import reverse

        from bookings.queries.letters import path_of_quote
        from studio.outbox.links import make_links_of

        make_links_of("quote", path_of_quote)
        make_links_of("booking", lambda number: reverse("bookings:detail", args=[int(number)]))
