"""The list of jobs, and one job on one page."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any, NamedTuple

from django.db.models import F, Q, QuerySet, prefetch_related_objects
from django.urls import reverse

from bookings.lifecycle import may_be_quoted, may_move
from bookings.models import Booking, HistoryEntry, MaterialSwap, Piece
from bookings.queries.allergies import LatexCheck, latex_check
from bookings.queries.billing import MoneyCard, money_card
from bookings.queries.estimates import estimate_of, pieces_of, shortfalls, swaps_of, to_make
from bookings.queries.goes_in import made_pieces, option_names, why_not_offer
from bookings.queries.known import may_have, read_known, with_what_it_has
from bookings.queries.load import SiteCard, load_and_site
from bookings.queries.money import with_standing
from bookings.queries.offering import Offering, offering_of
from bookings.queries.piece_rows import PieceRow, is_choice, piece_row
from bookings.queries.quotes import QuoteView, light, quote_view
from bookings.queries.wrapup import has_stock_out
from estimating.queries import CostedLine, JobEstimate
from stock.colour import ink_on
from stock.models import TIE_SIZE, Colour
from stock.queries import taken_for
from stock.queries.kit import BookedKit, kit_of_booking, promised_kit
from studio.models import Studio

MOST_HISTORY = 30


class List(NamedTuple):
    """One choice of which jobs to show."""

    title: str
    stages: tuple[str, ...]


LISTS: Mapping[str, List] = {
    "current": List("Under way", ("enquiry", "quoted", "booked")),
    "enquiry": List("Enquiries", ("enquiry",)),
    "quoted": List("Quoted", ("quoted",)),
    "booked": List("Booked", ("booked",)),
    "past": List("Done, lost or cancelled", ("done", "lost", "cancelled")),
    "all": List("All of them", tuple(Booking.Stage.values)),
}


def bookings_list(which: str, search: str) -> QuerySet[Booking]:
    """Jobs of one list whose title, client, place or number fits `search`; dated ones first, the soonest first."""
    stages = LISTS.get(which, LISTS["current"]).stages
    found = Booking.objects.filter(stage__in=stages).select_related("client")
    for word in search.split():
        fits = (
            Q(title__icontains=word)
            | Q(place__icontains=word)
            | Q(client__name__icontains=word)
            | Q(client__phone__icontains=word)
            | Q(client__email__icontains=word)
        )
        if word.isascii() and word.isdigit() and len(word) < 10:
            fits |= Q(pk=int(word))
        found = found.filter(fits)
    return found.order_by(F("event_on").asc(nulls_last=True), "-created_at", "-pk")


class MaterialRow(NamedTuple):
    """An item the job takes, and how many of it are not covered."""

    item_id: int | None
    label: str
    swatch: str
    ink: str
    size: int | None
    disc_text: str | None
    needed: int
    spares: int
    short: int

    @property
    def short_words(self) -> str:
        """What the coral badge says."""
        return f"{self.short} short"


class Step(NamedTuple):
    """One thing to do next."""

    what: str
    note: str
    href: str = ""


class Ending(NamedTuple):
    """A way to end or reopen the job."""

    words: str
    means: str
    href: str
    danger: bool = False
    asks_why: bool = True
    has_a_page: bool = False


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
    return with_what_it_has(with_standing(Booking.objects.select_related("client", "wrap_up")))


def booking_page(
    booking: Booking, *, today: date, studio: Studio, shows_money: bool, kept: Sequence[Piece] | None = None
) -> JobPage:
    """The job on one page; without `shows_money` no amount is in it. `kept` are its pieces, where they are read."""
    page = JobPage(when=when_words(booking), can_quote=may_be_quoted(booking.stage), is_over=_is_over(booking))
    kept = pieces_of(booking) if kept is None else kept
    promised = promised_kit(booking.pk) if may_have(booking, "kit") else []
    swaps = swaps_of(booking)
    taken = taken_for(booking.pk) if may_have(booking, "stock") else {}
    names = option_names(booking, kept)
    if kept:
        made = made_pieces(kept, names)
        choice = shows_money and not why_not_offer(kept, names) and is_choice(kept, booking)
        known = read_known(for_several=choice or booking.client.latex_allergy)
        estimate = estimate_of([to_make(piece) for piece in made], booking, studio.currency, known, promised)
        if choice:
            page.offering = offering_of(booking, studio, known, kept=kept, promised=promised)
        prices = {piece.pk: estimate.pieces[n].price_minor for n, piece in enumerate(made)} if shows_money else None
        page.pieces = [piece_row(piece, page.offering, prices, studio.system, known.colours) for piece in kept]
        gaps = shortfalls(estimate, booking, today=today, swaps=swaps, taken=taken) if not page.is_over else {}
        page.materials = _material_rows(estimate, gaps, swaps, known.colours, is_over=page.is_over)
        page.materials_note = _materials_note(booking)
        page.site = load_and_site(estimate, booking, rates=known.rates, measures=studio.system, promised=promised)
        page.estimate = estimate if shows_money else None
        page.latex = latex_check(booking, kept, studio.currency, known)
    history = booking.history.select_related("by").order_by("-at", "-pk")
    page.history = list((history if shows_money else history.filter(money=False))[:MOST_HISTORY])
    if shows_money:
        quotes = light(booking.quotes.all()).select_related("acceptance", "booking")
        page.quotes = [quote_view(quote, today=today) for quote in quotes.order_by("-version")]
        # How often it was opened is said of the open one alone.
        prefetch_related_objects([view.quote for view in page.quotes if view.state == "open"], "openings")
        page.money = money_card(booking, today=today, quotes=[view.quote for view in page.quotes])
        page.cannot_send = why_not_send(booking, has_pieces=bool(kept), today=today)
        page.cannot_send = page.cannot_send or (why_not_offer(kept, names) if kept else "")
        page.endings = _endings(booking)
        page.behind = _behind(booking, page.quotes)
    page.swapped = _swap_sentences(booking, swaps)
    page.kit = kit_of_booking(booking.pk, today, promised)
    page.on_the_road = has_stock_out(booking, taken)
    page.next = _next(booking, page, shows_money=shows_money)
    return page


def day_words(booking: Booking) -> str:
    """“Saturday 12 December 2026”, or the date as it was said."""
    if booking.event_on is None:
        return booking.date_text or "No date yet"
    return f"{booking.event_on:%A} {booking.event_on.day} {booking.event_on:%B %Y}"


def when_words(booking: Booking) -> str:
    """The day, and when it must be ready by."""
    said = day_words(booking)
    return f"{said}, ready by {booking.ready_by:%H:%M}" if booking.ready_by else said


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


def _material_rows(
    estimate: JobEstimate,
    gaps: Mapping[int, int],
    swaps: Sequence[MaterialSwap],
    colours: Sequence[Colour],
    *,
    is_over: bool,
) -> list[MaterialRow]:
    by_key = {colour.pk: colour for colour in colours}
    rows = _swapped([_material_row(line, gaps, by_key) for line in estimate.lines], swaps, gaps)
    if is_over:
        rows = [row._replace(short=0) for row in rows]
    # What runs short first, then balloons by size, then hardware.
    return sorted(rows, key=lambda row: (not row.short, row.size is None or row.size == TIE_SIZE, row.size or 0))


def _swapped(rows: list[MaterialRow], swaps: Sequence[MaterialSwap], gaps: Mapping[int, int]) -> list[MaterialRow]:
    """The rows as they stand after what was swapped; what is no longer needed at all is left out."""
    if not swaps:
        return rows
    by_item = {row.item_id: row for row in rows if row.item_id is not None}
    for swap in swaps:
        old = by_item.get(swap.given_up_id)
        if old is not None:
            needed = max(old.needed - swap.quantity, 0)
            spares = max(old.spares - max(swap.quantity - old.needed, 0), 0)
            by_item[swap.given_up_id] = old._replace(needed=needed, spares=spares)
        for item in filter(None, (swap.taken, swap.inside)):
            new = by_item.get(item.pk)
            if new is None:
                short = gaps.get(item.pk, 0)
                new = MaterialRow(item.pk, item.label, item.swatch, item.ink, item.size, None, 0, 0, short)
            by_item[item.pk] = new._replace(needed=new.needed + swap.quantity)
    unlisted = [row for row in rows if row.item_id is None]
    return [row for row in by_item.values() if row.needed or row.spares] + unlisted


def _swap_sentences(booking: Booking, swaps: Sequence[MaterialSwap]) -> list[str]:
    """What no longer is as the picture shows it."""
    return [
        f"{swap.quantity:,} {swap.given_up.label} {'is' if swap.quantity == 1 else 'are'} {swap.taken_words} now"
        f"{', two balloons in each' if swap.inside_id else ''}. "
        f"The picture {booking.client.shown_name} accepted shows {swap.given_up.label}: tell them."
        for swap in swaps
    ]


def _material_row(line: CostedLine, gaps: Mapping[int, int], colours: Mapping[int, Colour]) -> MaterialRow:
    sort, colour_key, size = line.key
    # The middle of a key is a colour for balloons alone; for things off the shelf it is the item itself.
    swatch = colours[colour_key].swatch if sort == "latex" and colour_key is not None else "#d9d2c6"
    texts = {"latex": None, "tie": "260", "line": "ft", "ribbon": "ft", "gas": "He"}
    return MaterialRow(
        item_id=line.item.pk if line.item else None,
        label=line.label,
        swatch=swatch,
        ink=ink_on(swatch),
        size=TIE_SIZE if sort == "tie" else size,
        disc_text=texts.get(sort, ""),
        needed=line.needed,
        spares=line.spares,
        short=gaps.get(line.item.pk, 0) if line.item else line.total,
    )


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


def _behind(booking: Booking, quotes: list[QuoteView]) -> str:
    """A sentence where an open quote says another day than the job now has."""
    current = next((view.quote for view in quotes if view.state == "open"), None)
    if current is None or booking.prep_day is None or current.needed_on == booking.prep_day:
        return ""
    return f"{current} was made for another day. Send the next version so that the client sees the new one."


def _endings(booking: Booking) -> list[Ending]:
    ways = []
    if may_move(booking.stage, Booking.Stage.CANCELLED):
        href = reverse("bookings:cancel", args=[booking.pk])
        said = "What it holds is free again. You see first what the terms keep."
        ways.append(Ending("Cancel the job", said, href, danger=True, has_a_page=True))
    if may_move(booking.stage, Booking.Stage.LOST):
        href = reverse("bookings:lose", args=[booking.pk])
        ways.append(Ending("Mark it as lost", "Its quotes are withdrawn. It can be opened again.", href))
    if booking.stage == Booking.Stage.LOST and booking.client.erased_at is None:
        href = reverse("bookings:reopen", args=[booking.pk])
        ways.append(Ending("Open it again", "It is an enquiry once more.", href, asks_why=False))
    return ways


def _next(booking: Booking, page: JobPage, *, shows_money: bool) -> list[Step]:
    """What to do next, the first first."""
    steps = []
    for row in page.materials:
        if row.short and booking.stage == Booking.Stage.BOOKED:
            href = reverse("stock:item", args=[row.item_id]) if row.item_id else ""
            steps.append(Step(f"Get {row.short} more {row.label}", "the shelf does not cover this job", href))
    if shows_money and page.can_quote and booking.stage != Booking.Stage.BOOKED:
        if not page.pieces:
            steps.append(Step("Make a piece", "picture, list and price come from it"))
        elif booking.event_on is None and booking.needed_on is None:
            steps.append(Step("Set the day", "stock is held for a day", reverse("bookings:edit", args=[booking.pk])))
        elif booking.stage == Booking.Stage.ENQUIRY:
            steps.append(Step("Send the quote", "", reverse("bookings:quote-issue", args=[booking.pk])))
        else:
            steps.append(Step("Wait for the answer", page.quotes[0].note if page.quotes else ""))
    steps += _money_steps(booking, page.money)
    if booking.stage == Booking.Stage.BOOKED and booking.prep_day:
        said = f"{booking.prep_day:%A} {booking.prep_day.day} {booking.prep_day:%B}"
        if not page.on_the_road:
            steps.append(Step("Pull and load", f"prep is on {said}", reverse("bookings:pull-list", args=[booking.pk])))
        else:
            steps.append(Step("Prep", said))
        steps.append(Step("Wrap up", "when it is over", reverse("bookings:wrap-up", args=[booking.pk])))
    elif booking.stage == Booking.Stage.CANCELLED and page.on_the_road:
        href = reverse("bookings:wrap-up", args=[booking.pk])
        steps.append(Step("Bring home what was taken", "it had left the shelf already", href))
    return steps


def _money_steps(booking: Booking, card: MoneyCard | None) -> list[Step]:
    """What is still to be paid, and by when."""
    href = reverse("bookings:payment", args=[booking.pk])
    return [
        Step(f"{one.due.what} is due", f"by {one.due.on:%a} {one.due.on.day} {one.due.on:%b}", href)
        for one in (card.open_dues if card else ())
    ]
