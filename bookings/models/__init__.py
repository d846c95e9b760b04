"""Clients, and the life of a job: enquiry, quote, yes, done."""

from bookings.models.books import Entry, Posting
from bookings.models.bringing import BringingRules, BringTick
from bookings.models.clients import Client, ClientMerge, ClientQuerySet, ConsentEntry
from bookings.models.dates import CalendarLink, DateHold, DateHoldQuerySet, DayLimits, SeenClash
from bookings.models.invoices import CreditNote, Invoice, InvoiceLine, NumberSeries
from bookings.models.jobs import Booking, BookingQuerySet, HistoryEntry
from bookings.models.learned import JobEarnings, WrapUpFigure
from bookings.models.letters import MailRules, MailRulesQuerySet, MailTemplate
from bookings.models.money import AmountDue, CreditMove, Method, Payment, Refund
from bookings.models.offered import Charge, OptionName, QuoteExtra, QuoteOption
from bookings.models.people import DayOff, DayOffQuerySet, OnTheJob, WorkDay
from bookings.models.pieces import Photo, Piece, Sketch
from bookings.models.pulling import PullTick, PullTickQuerySet
from bookings.models.questions import Question, QuestionQuerySet
from bookings.models.quotes import (
    Acceptance,
    MaterialSwap,
    Quote,
    QuoteMaterial,
    QuoteOpening,
    QuotePiece,
    QuoteQuerySet,
)
from bookings.models.site import Acknowledgement, Place, PlaceQuerySet, Strike, StrikeQuerySet
from bookings.models.terms import MoneyTerms
from bookings.models.wrapup import WrapUp, WrapUpLine

__all__ = [
    "Acceptance",
    "Acknowledgement",
    "AmountDue",
    "Booking",
    "BookingQuerySet",
    "BringTick",
    "BringingRules",
    "CalendarLink",
    "Charge",
    "Client",
    "ClientMerge",
    "ClientQuerySet",
    "ConsentEntry",
    "CreditMove",
    "CreditNote",
    "DateHold",
    "DateHoldQuerySet",
    "DayLimits",
    "DayOff",
    "DayOffQuerySet",
    "Entry",
    "HistoryEntry",
    "Invoice",
    "InvoiceLine",
    "JobEarnings",
    "MailRules",
    "MailRulesQuerySet",
    "MailTemplate",
    "MaterialSwap",
    "Method",
    "MoneyTerms",
    "NumberSeries",
    "OnTheJob",
    "OptionName",
    "Payment",
    "Photo",
    "Piece",
    "Place",
    "PlaceQuerySet",
    "Posting",
    "PullTick",
    "PullTickQuerySet",
    "Question",
    "QuestionQuerySet",
    "Quote",
    "QuoteExtra",
    "QuoteMaterial",
    "QuoteOpening",
    "QuoteOption",
    "QuotePiece",
    "QuoteQuerySet",
    "Refund",
    "SeenClash",
    "Sketch",
    "Strike",
    "StrikeQuerySet",
    "WorkDay",
    "WrapUp",
    "WrapUpFigure",
    "WrapUpLine",
]
