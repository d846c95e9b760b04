"""Clients, and the life of a job: enquiry, quote, yes, done."""

from bookings.models.clients import Client
from bookings.models.jobs import Booking, BookingQuerySet, HistoryEntry
from bookings.models.money import AmountDue
from bookings.models.pieces import Photo, Piece, Sketch
from bookings.models.pulling import PullTick, PullTickQuerySet
from bookings.models.quotes import (
    Acceptance,
    MaterialSwap,
    Quote,
    QuoteMaterial,
    QuoteOpening,
    QuotePiece,
    QuoteQuerySet,
)
from bookings.models.wrapup import WrapUp, WrapUpLine

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
    "PullTick",
    "PullTickQuerySet",
    "Quote",
    "QuoteMaterial",
    "QuoteOpening",
    "QuotePiece",
    "QuoteQuerySet",
    "Sketch",
    "WrapUp",
    "WrapUpLine",
]
