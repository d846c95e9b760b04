"""What a booking offers its client to choose from, as it stands: its options and its extras, each with its price.

A booking none of whose pieces is of an option of its own has one option. Each option is estimated as a whole job:
set-up, travel, kit and the least price of a job are in it, and so they are paid once whatever is ticked on top. An
extra is therefore priced without them: by its materials, its own work, overhead, margin and rounding, or as asked.
"""

from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass, replace
from decimal import Decimal

from bookings.choosing import Asked, Extra, Offer, Option
from bookings.models import Booking, Charge, Piece
from bookings.queries.estimates import estimate_of, pieces_of, place_of, to_make
from bookings.queries.goes_in import AN_EXTRA, goes_with, option_names, option_numbers
from bookings.queries.known import Known, read_known
from bookings.queries.pictured import describe
from estimating.hours import Hours
from estimating.models import Rates
from estimating.pricing import PieceCost, Price, price, price_as_asked
from estimating.queries import CostedLine, JobEstimate, PieceToMake, estimate_job, price_rates
from stock.models import KitPromise
from stock.queries.kit import promised_kit
from studio.models import Studio
from studio.money import from_minor, minor_units, to_minor


@dataclass(frozen=True, slots=True)
class OfferedOption:
    """An option with its estimate; `pieces` are the places of its pieces among all that are offered."""

    number: int
    name: str
    pieces: tuple[int, ...]
    estimate: JobEstimate

    @property
    def asked(self) -> Asked:
        """What it asks."""
        return Asked(self.estimate.price_minor, self.estimate.tax_minor, self.estimate.deposit_minor)


@dataclass(frozen=True, slots=True)
class OfferedExtra:
    """An extra with what it asks and takes. `piece` is its place among all that are offered, None for a charge."""

    number: int
    name: str
    description: str
    asked: Asked
    cost_minor: int
    minutes: int
    is_taken: bool
    made_from: str
    piece: int | None = None
    lines: tuple[CostedLine, ...] = ()


@dataclass(frozen=True, slots=True)
class Offering:
    """Everything that is offered. `kept` and `pieces` are the offered pieces in their order, kept and as made."""

    kept: tuple[Piece, ...]
    pieces: tuple[PieceToMake, ...]
    options: tuple[OfferedOption, ...]
    extras: tuple[OfferedExtra, ...]

    @property
    def offer(self) -> Offer:
        """What the client can choose, in plain figures."""
        return Offer(
            tuple(Option(one.number, one.name, one.asked) for one in self.options),
            tuple(Extra(one.number, one.name, one.description, one.asked, one.is_taken) for one in self.extras),
        )

    def price_where_offered(self, piece: int) -> int | None:
        """The price of the kept piece of that key in the first option it is in, or as an extra."""
        place = next((n for n, kept in enumerate(self.kept) if kept.pk == piece), None)
        if place is None:
            return None
        prices = self.price_of(place)
        asked = [extra.asked.price for extra in self.extras if extra.piece == place]
        return prices[min(prices)] if prices else asked[0] if asked else None

    def price_of(self, place: int) -> dict[int, int]:
        """The price of a piece by the number of each option it is in."""
        return {
            option.number: option.estimate.pieces[option.pieces.index(place)].price_minor
            for option in self.options
            if place in option.pieces
        }


def offering_of(
    booking: Booking,
    studio: Studio,
    known: Known | None = None,
    *,
    kept: Sequence[Piece] | None = None,
    promised: Sequence[KitPromise] | None = None,
) -> Offering:
    """What the booking offers as it stands. The caller has checked `why_not_offer`.

    All its pieces are `kept`, and `known` and the kit it was `promised` are read where the caller has not.
    """
    known = known or read_known(for_several=True)
    promised = promised_kit(booking.pk) if promised is None else promised
    everything = pieces_of(booking) if kept is None else kept
    names = option_names(booking, everything)
    numbers = option_numbers(everything, names)
    offered = [
        piece
        for piece in everything
        if piece.goes_in == AN_EXTRA or any(goes_with(piece, number) for number in numbers)
    ]
    made = [to_make(piece) for piece in offered]
    options = []
    for number in numbers:
        places = tuple(n for n, piece in enumerate(offered) if goes_with(piece, number))
        estimate = estimate_of([made[n] for n in places], booking, studio.currency, known, promised)
        options.append(OfferedOption(number, names.get(number) or f"Option {number}", places, estimate))
    has_gas = all(option.estimate.takes_gas for option in options)
    extras = _extras(booking, studio, offered, made, known, has_gas=has_gas)
    return Offering(tuple(offered), tuple(made), tuple(options), extras)


def _extras(
    booking: Booking,
    studio: Studio,
    offered: Sequence[Piece],
    made: Sequence[PieceToMake],
    known: Known,
    *,
    has_gas: bool,
) -> tuple[OfferedExtra, ...]:
    """The pieces to tick, in their order, then the charges. `has_gas` says that gas is collected whatever is chosen."""
    extras: list[OfferedExtra] = []
    places = [n for n, piece in enumerate(offered) if piece.goes_in == AN_EXTRA]
    charges = sorted(booking.charges.all(), key=lambda charge: charge.pk)
    if not places and not charges:
        return ()
    rates = on_top(known.rates, has_gas=has_gas)
    for n in places:
        estimate = estimate_job(
            [made[n]],
            rates=rates,
            currency=studio.currency,
            crew=1,
            site=place_of(booking),
            pops_seen=known.shown.pops,
            colours=known.colours,
            shelf=known.shelf,
        )
        extras.append(
            OfferedExtra(
                number=len(extras) + 1,
                name=offered[n].name,
                description=describe(made[n], studio.system),
                asked=Asked(estimate.price_minor, estimate.tax_minor, estimate.deposit_minor),
                cost_minor=estimate.cost_minor,
                minutes=estimate.person_minutes,
                is_taken=offered[n].is_taken,
                made_from=f"piece {offered[n].pk}",
                piece=n,
                lines=estimate.lines,
            )
        )
    for charge in charges:
        extras.append(replace(_charged(charge, rates, studio.currency), number=len(extras) + 1))
    return tuple(extras)


def on_top(rates: Rates, *, has_gas: bool = False) -> Rates:
    """The rates for what comes on top of a job: what is paid once a job is in the job's own price.

    Where there may be none in the job, each extra with helium pays for its own gas to be collected.
    """
    marginal = copy(rates)
    marginal.minimum_minor = 0
    marginal.setup_minutes = marginal.strike_minutes = 0
    if has_gas:
        marginal.gas_minutes = 0
    return marginal


def _charged(charge: Charge, rates: Rates, currency: str) -> OfferedExtra:
    """A charge as an extra. Its minutes cost the studio their hours and overhead, also where an amount is asked."""
    places, terms = minor_units(currency), price_rates(rates, currency)
    hours = Hours((), 1, charge.minutes, charge.minutes, 0)
    work = PieceCost("0", charge.name, Decimal(0), charge.minutes)
    reckoned = price(pieces=[work], hours=hours, rates=terms, currency_places=places)
    asked: Price = reckoned
    if charge.amount_minor is not None:
        asked = price_as_asked(from_minor(charge.amount_minor, currency), rates=terms, currency_places=places)
    price_minor, tax_minor, deposit_minor, cost_minor = (
        to_minor(amount, currency) for amount in (asked.before_tax, asked.tax, asked.deposit, reckoned.cost)
    )
    return OfferedExtra(
        number=0,
        name=charge.name,
        description=charge.note,
        asked=Asked(price_minor, tax_minor, deposit_minor),
        cost_minor=cost_minor,
        minutes=charge.minutes,
        is_taken=charge.is_taken,
        made_from=f"charge {charge.pk}",
    )
