"""Papers made from a booking: what is prepared before it is issued, and the page that becomes its PDF."""

from bookings.paperwork.preparing import QuotePaper, prepare_quote
from bookings.paperwork.quote import PaperPiece, quote_pdf

__all__ = ["PaperPiece", "QuotePaper", "prepare_quote", "quote_pdf"]
