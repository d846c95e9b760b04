"""What is known of bookings. Nothing here changes anything."""

from bookings.queries.estimates import (
    PiecePreview,
    booking_estimate,
    describe,
    piece_drawing,
    piece_preview,
    pieces_to_make,
)
from bookings.queries.jobs import LISTS, JobPage, booking_page, bookings_list, why_not_send
from bookings.queries.quotes import QuoteView, comparable, link_of, quote_view, state_of
from bookings.queries.week import ComingUp, Waiting, coming_up, waiting_on

__all__ = [
    "LISTS",
    "ComingUp",
    "JobPage",
    "PiecePreview",
    "QuoteView",
    "Waiting",
    "booking_estimate",
    "booking_page",
    "bookings_list",
    "coming_up",
    "comparable",
    "describe",
    "link_of",
    "piece_drawing",
    "piece_preview",
    "pieces_to_make",
    "quote_view",
    "state_of",
    "waiting_on",
    "why_not_send",
]
