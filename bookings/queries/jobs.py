"""One job on one page."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from django.db.models import QuerySet, prefetch_related_objects

from bookings.lifecycle import may_be_quoted
from bookings.models import Booking, HistoryEntry, MaterialSwap, Piece
from bookings.queries.agreed import agreed_materials
from bookings.queries.allergies import Allergies, LatexCheck, allergies_of, latex_check, with_latex_of_place
from bookings.queries.billing import MoneyCard, money_card
from bookings.queries.day_words import when_words
from bookings.queries.estimates import estimate_of, pieces_of, shortfalls, swaps_of, to_make
from bookings.queries.goes_in import made_pieces, option_names, why_not_offer
from bookings.queries.known import Known, may_have, read_known, with_what_it_has
from bookings.queries.load import SiteCard, load_and_site
from bookings.queries.material_rows import (
    MaterialRow,
    agreed_rows,
    changes_since,
    material_rows,
    reckoned_rows,
    swap_sentences,
)
from bookings.queries.money import with_standing
from bookings.queries.next_steps import Ending, Step, endings, next_steps
from bookings.queries.offering import Offering, offering_of
from bookings.queries.piece_rows import PieceRow, is_choice, piece_row
from bookings.queries.quotes import QuoteView, light, quote_view
from bookings.queries.wrapup import has_stock_out
from estimating.queries import JobEstimate
from stock.models import KitPromise
from stock.queries import taken_for
from stock.queries.kit import BookedKit, kit_of_booking, promised_kit
from studio.models import Studio

MOST_HISTORY = 30
MOST_NAMED = 4


@dataclass(slots=True)
class JobPage:
    """Everything the page of one job says. Money is None for crew."""

    when: str
    pieces: list[PieceRow] = field(default_factory=list)
    estimate: JobEstimate | None = None
    offering: Offering | None = None
    materials: list[MaterialRow] = field(default_factory=list)
    materials_note: str = ""
    quotes: list[QuoteView] = field(default_factory=list)
    money: MoneyCard | None = None
    history: list[HistoryEntry] = field(default_factory=list)
    next: list[Step] = field(default_factory=list)
    endings: list[Ending] = field(default_factory=list)
    site: SiteCard | None = None
    latex: LatexCheck | None = None
    drifted: list[str] = field(default_factory=list)
    allergies: Allergies | None = None
    behind: str = ""
    swapped: list[str] = field(default_factory=list)
    kit: list[BookedKit] = field(default_factory=list)
    on_the_road: bool = False
    is_over: bool = False
    can_quote: bool = False
    cannot_send: str = ""

    @property
    def short_count(self) -> int:
        """How many items are not covered."""
        return sum(1 for row in self.materials if row.short)

    @property
    def short_words(self) -> str:
        """“2 of 14 items short”."""
        return f"{self.short_count} of {len(self.materials)} items short"


def for_its_page() -> QuerySet[Any]:
    """Bookings with everything that one statement can read of them for the page of one."""
    return with_latex_of_place(with_what_it_has(with_standing(Booking.objects.select_related("client", "wrap_up"))))


def for_looking_over() -> QuerySet[Any]:
    """Bookings with what one statement can read of them for looking over their quote."""
    read = with_what_it_has(Booking.objects.select_related("client"), "charges", "swaps", "stock", "kit", "quotes")
    return with_latex_of_place(read)


def booking_page(booking: Booking, *, today: date, studio: Studio, shows_money: bool) -> JobPage:
    """The job on one page; without `shows_money` no amount is in it."""
    kit = kit_of_booking(booking.pk, today) if may_have(booking, "kit") else []
    kept, promised = pieces_of(booking), [one.promise for one in kit]
    swaps, taken = swaps_of(booking), _taken(booking)
    page = _page_of(booking)
    page.kit = kit
    if kept:
        known, estimate = _fill(page, booking, kept, promised, swaps, taken, today, studio, shows_money=shows_money)
        page.site = load_and_site(estimate, booking, rates=known.rates, measures=studio.system, promised=promised)
    history = booking.history.select_related("by").order_by("-at", "-pk")
    page.history = list((history if shows_money else history.filter(money=False))[:MOST_HISTORY])
    if shows_money:
        quotes = light(booking.quotes.all()).select_related("acceptance", "booking")
        page.quotes = [quote_view(quote, today=today) for quote in quotes.order_by("-version")]
        # How often it was opened is said of the open one alone.
        prefetch_related_objects([view.quote for view in page.quotes if view.state == "open"], "openings")
        page.money = money_card(booking, today=today, quotes=[view.quote for view in page.quotes])
        page.cannot_send = why_not_send(booking, has_pieces=bool(kept), today=today)
        page.cannot_send = page.cannot_send or (why_not_offer(kept, option_names(booking, kept)) if kept else "")
        page.endings = endings(booking)
        page.behind = _behind(booking, page.quotes, page.drifted)
    page.swapped = swap_sentences(booking, swaps)
    page.on_the_road = has_stock_out(booking, taken)
    page.next = next_steps(
        booking,
        materials=page.materials,
        has_pieces=bool(page.pieces),
        answer=page.quotes[0].note if page.quotes else "",
        money=page.money,
        may_quote=shows_money and page.can_quote,
        on_the_road=page.on_the_road,
    )
    return page


def quote_to_look_over(booking: Booking, kept: Sequence[Piece], *, today: date, studio: Studio) -> JobPage:
    """What a quote of a job would say, with its cost: of its page, all that is reckoned from its pieces, which are
    `kept`."""
    page, promised = _page_of(booking), promised_kit(booking.pk) if may_have(booking, "kit") else []
    _fill(page, booking, kept, promised, swaps_of(booking), _taken(booking), today, studio, shows_money=True)
    return page


def _page_of(booking: Booking) -> JobPage:
    """A page that says only what the booking's own row does."""
    page = JobPage(when=when_words(booking), can_quote=may_be_quoted(booking.stage), is_over=_is_over(booking))
    page.allergies = allergies_of(booking)
    return page


def _taken(booking: Booking) -> dict[int, int]:
    return taken_for(booking.pk) if may_have(booking, "stock") else {}


def _fill(
    page: JobPage,
    booking: Booking,
    kept: Sequence[Piece],
    promised: Sequence[KitPromise],
    swaps: Sequence[MaterialSwap],
    taken: Mapping[int, int],
    today: date,
    studio: Studio,
    *,
    shows_money: bool,
) -> tuple[Known, JobEstimate]:
    """Put what is reckoned from the pieces on the page: themselves, prices, materials. What it was reckoned from."""
    names = option_names(booking, kept)
    made = made_pieces(kept, names)
    choice = shows_money and not why_not_offer(kept, names) and is_choice(kept, booking)
    no_latex = page.allergies is not None and page.allergies.no_latex
    known = read_known(for_several=shows_money and (choice or no_latex), priced=shows_money)
    estimate = estimate_of([to_make(piece) for piece in made], booking, studio.currency, known, promised)
    if choice:
        page.offering = offering_of(booking, studio, known, kept=kept, promised=promised)
    # Once it is agreed, what counts is the quote: a price reckoned anew would stand beside it as a second truth.
    reckons = shows_money and not page.is_over and booking.stage != Booking.Stage.BOOKED
    prices = {piece.pk: estimate.pieces[n].price_minor for n, piece in enumerate(made)} if reckons else None
    page.pieces = [piece_row(piece, page.offering, prices, studio.system, known.colours) for piece in kept]
    reckoned = reckoned_rows(estimate, known.colours)
    agreed = agreed_rows(agreed_materials(booking)) if booking.stage == Booking.Stage.BOOKED else []
    rows = [*agreed, *(row for row in reckoned if row.item_id is None)] if agreed else reckoned
    wanted = {row.item_id: row.needed + row.spares for row in rows if row.item_id is not None}
    gaps = shortfalls(wanted, booking, today=today, swaps=swaps, taken=taken) if not page.is_over else {}
    page.materials = material_rows(rows, gaps, swaps, is_over=page.is_over)
    page.drifted = changes_since(agreed, reckoned) if agreed else []
    page.materials_note = _materials_note(booking)
    page.estimate = estimate if shows_money else None
    page.latex = latex_check(booking, kept, studio.currency, known)
    return known, estimate


def why_not_send(booking: Booking, *, has_pieces: bool, today: date) -> str:
    """Why no quote can be sent for the job as it stands; empty where one can."""
    if not may_be_quoted(booking.stage):
        return f"This job is {booking.stage}: no quote can be sent for it."
    if not has_pieces:
        return "Add a piece first: a quote shows what will be made."
    if booking.prep_day is None:
        return "Set the event day first: the shelf holds balloons for a day."
    if booking.prep_day < today:
        return f"The prep day, {booking.prep_day.day} {booking.prep_day:%B}, has gone by: change it in the details."
    return ""


def _is_over(booking: Booking) -> bool:
    """Whether nothing is made or held for it any more."""
    return booking.stage in (Booking.Stage.DONE, Booking.Stage.LOST, Booking.Stage.CANCELLED)


def _materials_note(booking: Booking) -> str:
    if _is_over(booking):
        return f"This is what it would take; the job is {booking.stage}."
    if booking.prep_day is None:
        return "Nothing is held: there is no day yet."
    day = f"{booking.prep_day:%a} {booking.prep_day.day} {booking.prep_day:%b}"
    return f"Held for {day}." if booking.stage == Booking.Stage.BOOKED else f"Needed on {day}; held once it is booked."


def _behind(booking: Booking, quotes: list[QuoteView], drifted: Sequence[str]) -> str:
    """A sentence where an open quote says another day than the job now has, or what is held is not what it takes."""
    current = next((view.quote for view in quotes if view.state == "open"), None)
    if current is None and drifted:
        named = ", ".join(drifted[:MOST_NAMED]) + (" and more" if len(drifted) > MOST_NAMED else "")
        return (
            f"Reckoned as it stands now it takes other than was agreed: {named}. What was agreed is held. "
            "Send the next version to hold the rest."
        )
    if current is None or booking.prep_day is None or current.needed_on == booking.prep_day:
        return ""
    return f"{current} was made for another day. Send the next version so that the client sees the new one."
