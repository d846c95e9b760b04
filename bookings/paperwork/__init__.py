"""Papers made from a booking: what is prepared before it is issued, and the page that becomes its PDF."""

from bookings.paperwork.preparing import QuotePaper, prepare_quote
from bookings.paperwork.pull_list import pull_list_pdf
from bookings.paperwork.quote import PaperPiece, quote_pdf

__all__ = ["PaperPiece", "QuotePaper", "prepare_quote", "pull_list_pdf", "quote_pdf"]
