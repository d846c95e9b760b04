"""Clients, and the life of a job: enquiry, quote, yes, done."""

from bookings.models.clients import Client
from bookings.models.jobs import Booking, BookingQuerySet, HistoryEntry
from bookings.models.money import AmountDue
from bookings.models.pieces import Photo, Piece, Sketch
from bookings.models.quotes import (
    Acceptance,
    MaterialSwap,
    Quote,
    QuoteMaterial,
    QuoteOpening,
    QuotePiece,
    QuoteQuerySet,
)

__all__ = [
    "Acceptance",
    "AmountDue",
    "Booking",
    "BookingQuerySet",
    "Client",
    "HistoryEntry",
    "MaterialSwap",
    "Photo",
    "Piece",
    "Quote",
    "QuoteMaterial",
    "QuoteOpening",
    "QuotePiece",
    "QuoteQuerySet",
    "Sketch",
]
