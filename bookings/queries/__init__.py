"""What is known of bookings. Nothing here changes anything."""

from bookings.queries.agreed import choice_of, offer_of
from bookings.queries.client_page import client_page
from bookings.queries.estimates import PiecePreview, booking_estimate, piece_preview, pieces_of, pieces_to_make
from bookings.queries.job_list import LISTS, bookings_list
from bookings.queries.jobs import (
    JobPage,
    booking_page,
    for_its_page,
    for_looking_over,
    quote_to_look_over,
    why_not_send,
)
from bookings.queries.pictured import as_picture, describe, piece_drawing, what_and_size, worded
from bookings.queries.pulling import PullList, pull_list
from bookings.queries.quotes import QuoteView, comparable, link_of, quote_view, state_of
from bookings.queries.sketches import (
    LENGTHS,
    LIGHT,
    SKETCHED,
    SketchedPiece,
    drawn_alone,
    drawn_on_paper,
    length_words,
    photo_address,
    photos_of,
    sketch_of,
    with_sketches,
)
from bookings.queries.week import ComingUp, Waiting, coming_up, waiting_on
from bookings.queries.wrapup import ToWrapUp, WrapUpPage, has_stock_out, stands_outdoors, to_wrap_up, wrap_up_page

__all__ = [
    "LENGTHS",
    "LIGHT",
    "LISTS",
    "SKETCHED",
    "ComingUp",
    "JobPage",
    "PiecePreview",
    "PullList",
    "QuoteView",
    "SketchedPiece",
    "ToWrapUp",
    "Waiting",
    "WrapUpPage",
    "as_picture",
    "booking_estimate",
    "booking_page",
    "bookings_list",
    "choice_of",
    "client_page",
    "coming_up",
    "comparable",
    "describe",
    "drawn_alone",
    "drawn_on_paper",
    "for_its_page",
    "for_looking_over",
    "has_stock_out",
    "length_words",
    "link_of",
    "offer_of",
    "photo_address",
    "photos_of",
    "piece_drawing",
    "piece_preview",
    "pieces_of",
    "pieces_to_make",
    "pull_list",
    "quote_to_look_over",
    "quote_view",
    "sketch_of",
    "stands_outdoors",
    "state_of",
    "to_wrap_up",
    "waiting_on",
    "what_and_size",
    "why_not_send",
    "with_sketches",
    "worded",
    "wrap_up_page",
]
