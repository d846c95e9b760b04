"""The rows a quote is frozen into: its amounts, options, extras, pieces and materials."""

from collections.abc import Sequence
from typing import Any, TypedDict

from bookings.choosing import ONLY_OPTION, Asked
from bookings.queries import describe, piece_drawing
from bookings.queries.goes_in import OF_AN_OPTION
from bookings.queries.offering import Offering
from estimating.queries import CostedLine, JobEstimate
from stock.actions import items_for
from stock.models import Colour
from studio.models import Studio


class AskedColumns(TypedDict):
    """What something asks, as columns, in the currency's smallest unit."""

    price_minor: int
    tax_minor: int
    total_minor: int
    deposit_minor: int


class QuotedMoney(AskedColumns):
    """The amounts of a quote and their currency."""

    currency: str


def amounts(asked: Asked) -> AskedColumns:
    """The columns of what something asks."""
    return {
        "price_minor": asked.price,
        "tax_minor": asked.tax,
        "total_minor": asked.total,
        "deposit_minor": asked.deposit,
    }


def inside(estimate: JobEstimate) -> dict[str, Any]:
    """The columns only the owner reads."""
    return {
        "cost_minor": estimate.cost_minor,
        "person_minutes": estimate.person_minutes,
        "reasons": [list(reason) for reason in estimate.reasons],
    }


def option_columns(offering: Offering) -> list[dict[str, Any]]:
    """The rows of a quote's options; none where there is one, which is the quote itself."""
    if len(offering.options) == 1:
        return []
    return [
        {"number": one.number, "name": one.name, **amounts(one.asked), **inside(one.estimate)}
        for one in offering.options
    ]


def extra_columns(offering: Offering) -> list[dict[str, Any]]:
    """The rows of a quote's extras."""
    return [
        {
            "number": one.number,
            "name": one.name,
            "description": one.description,
            "is_ticked": one.is_taken,
            "made_from": one.made_from,
            "cost_minor": one.cost_minor,
            "person_minutes": one.minutes,
            **amounts(one.asked),
        }
        for one in offering.extras
    ]


def piece_columns(position: int, offering: Offering, studio: Studio, known: Sequence[Colour]) -> dict[str, Any]:
    """The row of a quoted piece."""
    piece = offering.pieces[position]
    extra = next((one for one in offering.extras if one.piece == position), None)
    prices = offering.price_of(position)
    goes_in = offering.kept[position].goes_in
    several = len(offering.options) > 1
    counts: dict[str, int] = {}
    for (colour, _size), count in piece.layout.counts().items():
        counts[colour] = counts.get(colour, 0) + count
    listed = {colour.key: colour for colour in known}
    colours = [
        {"name": str(listed[key]), "swatch": listed[key].swatch, "ink": listed[key].ink, "count": count}
        for key, count in sorted(counts.items(), key=lambda pair: -pair[1])
    ]
    return {
        "position": position,
        "name": piece.name,
        "kind": piece.kind,
        "spec": piece.spec.to_json(),
        "layout": piece.layout.to_json(),
        "description": describe(piece, studio.system),
        "balloons": piece.layout.counts().total(),
        "colours": colours,
        "price_minor": extra.asked.price if extra else prices[min(prices)],
        "option": int(goes_in) if several and goes_in in OF_AN_OPTION else 0,
        "extra": extra.number if extra else 0,
        "prices": {str(number): price for number, price in prices.items()} if several else {},
        "picture": str(piece_drawing(piece, prefix=f"p{position}", measures=studio.system, whole=True, colours=known)),
    }


def material_columns(offering: Offering) -> list[dict[str, Any]]:
    """The rows of a quote's materials by option and extra, every line with an item of its own on the shelf's list."""
    several = len(offering.options) > 1
    owned: list[tuple[int, int, CostedLine]] = [
        (option.number if several else ONLY_OPTION, 0, line)
        for option in offering.options
        for line in option.estimate.lines
    ]
    owned += [(0, extra.number, line) for extra in offering.extras for line in extra.lines]
    items = items_for(list(dict.fromkeys(line.key for _, _, line in owned)))
    return [
        {
            "option": option,
            "extra": extra,
            "item_id": items[line.key].pk,
            "item_label": line.label,
            "needed": line.needed,
            "spares": line.spares,
        }
        for option, extra, line in owned
    ]
