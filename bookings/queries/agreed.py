"""What an issued quote offers, and what of it was agreed: the figures that are reserved, owed and invoiced."""

from dataclasses import dataclass

from django.db.models import Case, Value, When

from bookings.choosing import ONLY_OPTION, Asked, Choice, Extra, Offer, Option, agreed, is_part_of, needed_of
from bookings.models import Booking, Quote, QuoteExtra, QuoteMaterial, QuotePiece


@dataclass(frozen=True, slots=True)
class AgreedLine:
    """One line of what was agreed: a piece or an extra, with its price before tax.

    `tax_minor` is an extra's own tax; None for a piece, whose option is taxed as the rates said when it was issued.
    """

    name: str
    description: str
    price_minor: int
    tax_minor: int | None = None


def offer_of(quote: Quote) -> Offer:
    """Everything the quote offers. One without options offers itself.

    Most quotes offer nothing to choose and say so in their own row, so nothing more is read for them. Of the others
    options and extras are read in one query: a client waits for it on a phone.
    """
    own = Option(ONLY_OPTION, "", Asked(quote.price_minor, quote.tax_minor, quote.deposit_minor))
    if not quote.told.get("offers_a_choice"):
        return Offer((own,))
    asked = ("number", "name", "price_minor", "tax_minor", "deposit_minor")
    rows = sorted(
        quote.options.values_list(Value(0), *asked, Value(""), Value(0)).union(
            quote.extras.values_list(Value(1), *asked, "description", Case(When(is_ticked=True, then=1), default=0)),
            all=True,
        )
    )
    options = tuple(Option(number, name, Asked(*sums)) for extra, number, name, *sums, _, _ in rows if not extra)
    extras = tuple(
        Extra(number, name, description, Asked(*sums), bool(ticked))
        for extra, number, name, *sums, description, ticked in rows
        if extra
    )
    return Offer(options or (own,), extras)


def extras_of(quote: Quote) -> list[QuoteExtra]:
    """The extras it offers, in their order."""
    return sorted(quote.extras.all(), key=lambda row: row.number)


def choice_of(quote: Quote) -> Choice:
    """What the client chose of an accepted quote."""
    return Choice(quote.acceptance.option, frozenset(quote.acceptance.extras))


def agreed_of(quote: Quote) -> Asked:
    """What an accepted quote comes to, as it was agreed."""
    yes = quote.acceptance
    if yes.total_minor is None:
        return agreed(offer_of(quote), choice_of(quote))
    return Asked(yes.price_minor or 0, yes.tax_minor or 0, yes.deposit_minor or 0)


def agreed_pieces(quote: Quote, *, with_layout: bool = False) -> list[QuotePiece]:
    """The pieces of an accepted quote that were chosen, without their drawings."""
    choice = choice_of(quote)
    pieces = quote.pieces.order_by("position").defer("picture", *(() if with_layout else ("layout",)))
    return [piece for piece in pieces if is_part_of(choice, option=piece.option, extra=piece.extra)]


def last_agreed_pieces(booking: Booking) -> list[QuotePiece]:
    """The chosen pieces of the newest version the client said yes to; none where nobody has. One statement."""
    accepted = Quote.objects.filter(booking=booking, acceptance__isnull=False).order_by("-version").values("pk")[:1]
    pieces = QuotePiece.objects.filter(quote__in=accepted).select_related("quote__acceptance").order_by("position")
    rows = pieces.only("kind", "spec", "option", "extra", "quote__version", "quote__acceptance")
    return [one for one in rows if is_part_of(choice_of(one.quote), option=one.option, extra=one.extra)]


def agreed_materials(booking: Booking) -> list[QuoteMaterial]:
    """What the newest version the client said yes to takes off the shelf; nothing where nobody has. One statement."""
    accepted = Quote.objects.filter(booking=booking, acceptance__isnull=False).order_by("-version").values("pk")[:1]
    rows = QuoteMaterial.objects.filter(quote__in=accepted).select_related("item__colour", "quote__acceptance")
    rows = rows.defer("quote__told").order_by("pk")
    return [one for one in rows if is_part_of(choice_of(one.quote), option=one.option, extra=one.extra)]


def last_agreed_needs(booking: Booking) -> dict[int, int]:
    """Item key to how many the newest version the client said yes to needs before spares. One statement."""
    accepted = Quote.objects.filter(booking=booking, acceptance__isnull=False).order_by("-version").values("pk")[:1]
    columns = ("option", "extra", "item_id", "needed")
    chosen = ("quote__acceptance__option", "quote__acceptance__extras")
    rows = list(QuoteMaterial.objects.filter(quote__in=accepted).values_list(*columns, *chosen))
    if not rows:
        return {}
    *_, option, extras = rows[0]
    return needed_of(
        Choice(option, frozenset(extras)), [(one, extra, item, many) for one, extra, item, many, *_ in rows]
    )


def agreed_lines(quote: Quote) -> list[AgreedLine]:
    """What was agreed, line by line: the pieces of the option, then the extras. They add up to the agreed price."""
    choice = choice_of(quote)
    lines = [
        AgreedLine(piece.name, piece.description, piece.price_in(choice.option))
        for piece in agreed_pieces(quote)
        if not piece.extra
    ]
    return lines + [
        AgreedLine(row.name, row.description, row.price_minor, row.tax_minor)
        for row in extras_of(quote)
        if row.number in choice.extras
    ]


def material_rows(quote: Quote) -> list[tuple[int, int, int, int]]:
    """(option, extra, item, quantity with spares) of everything the quote would take."""
    rows: list[QuoteMaterial] = list(quote.materials.all())
    return [(row.option, row.extra, row.item_id, row.total) for row in rows]
