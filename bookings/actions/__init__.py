"""Everything that changes a booking. Each action is one transaction, done by somebody at a moment."""

from bookings.actions.acceptance import AcceptanceRefused, accept_quote
from bookings.actions.cancelling import cancel_booking
from bookings.actions.clients import (
    ClientIsGone,
    MergeRefused,
    add_client,
    compare_phones_again,
    edit_client,
    merge_clients,
    note_consent,
)
from bookings.actions.erasing import EraseRefused, erase_client
from bookings.actions.invoices import PaperOutdated, issue_invoice, void_invoice
from bookings.actions.jobs import (
    StaleForm,
    edit_booking,
    edition_of_details,
    log_enquiry,
    lose_booking,
    reopen_booking,
)
from bookings.actions.payments import (
    HasChanged,
    MoneyRefused,
    MoreThanOwed,
    refund,
    refund_credit,
    take_payment,
    use_credit,
)
from bookings.actions.pieces import PieceIsGone, PiecesAreFixed, keep_piece, remove_piece
from bookings.actions.pulling import PullRefused, issue_materials, tick_line, tick_rest, untick_line
from bookings.actions.quotes import (
    QuoteRefused,
    issue_quote,
    record_opening,
    renew_link,
    withdraw_quote,
)
from bookings.actions.sketches import MOST_PHOTOS, PhotoIsGone, TooManyPhotos, add_photo, keep_sketch, remove_photo
from bookings.actions.swaps import swap_material
from bookings.actions.wrapup import Counted, KitBack, Told, WrapUpRefused, correct_home, wrap_up

__all__ = [
    "MOST_PHOTOS",
    "AcceptanceRefused",
    "ClientIsGone",
    "Counted",
    "EraseRefused",
    "HasChanged",
    "KitBack",
    "MergeRefused",
    "MoneyRefused",
    "MoreThanOwed",
    "PaperOutdated",
    "PhotoIsGone",
    "PieceIsGone",
    "PiecesAreFixed",
    "PullRefused",
    "QuoteRefused",
    "StaleForm",
    "Told",
    "TooManyPhotos",
    "WrapUpRefused",
    "accept_quote",
    "add_client",
    "add_photo",
    "cancel_booking",
    "compare_phones_again",
    "correct_home",
    "edit_booking",
    "edit_client",
    "edition_of_details",
    "erase_client",
    "issue_invoice",
    "issue_materials",
    "issue_quote",
    "keep_piece",
    "keep_sketch",
    "log_enquiry",
    "lose_booking",
    "merge_clients",
    "note_consent",
    "record_opening",
    "refund",
    "refund_credit",
    "remove_photo",
    "remove_piece",
    "renew_link",
    "reopen_booking",
    "swap_material",
    "take_payment",
    "tick_line",
    "tick_rest",
    "untick_line",
    "use_credit",
    "void_invoice",
    "withdraw_quote",
    "wrap_up",
]
