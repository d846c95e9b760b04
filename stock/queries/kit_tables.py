"""Kit as tables, a row at a time: what there is, how many are owned and why, and who was promised it."""

from stock.models import Kit, KitMovement, KitPromise
from stock.queries.buying_tables import Rows, day, moment
from studio.money import from_minor

KIT_COLUMNS = (
    "kit",
    "sort",
    "owned",
    "cleaning_days",
    "wear",
    "currency",
    "weight_grams",
    "room_millilitres",
    "place",
    "height_mm",
    "carries_grams",
    "retired",
    "notes",
)
"""The columns of the table of kit, which can be taken over again."""
_AT_A_TIME = 2_000


def kit_rows(currency: str) -> Rows:
    """All kit, with how many are owned and what one loses by a job."""
    yield list(KIT_COLUMNS)
    for kit in Kit.objects.with_owned().order_by("sort", "name", "pk"):
        yield [
            kit.name,
            kit.sort,
            kit.owned,
            kit.cleaning_days,
            from_minor(kit.wear_minor, currency),
            currency,
            kit.weight_grams,
            kit.room_millilitres,
            kit.place,
            kit.height_mm,
            kit.carries_grams,
            "no" if kit.retired_at is None else "yes",
            kit.notes,
        ]


def kit_movement_rows(currency: str = "") -> Rows:
    """Whatever was got, broken, lost or counted, oldest first. Times are in UTC."""
    yield ["movement", "kit", "kind", "quantity", "at", "by", "why", "booking"]
    moved = KitMovement.objects.select_related("kit", "by", "promise").order_by("pk")
    for movement in moved.iterator(_AT_A_TIME):
        yield [
            movement.pk,
            movement.kit.name,
            movement.kind,
            movement.quantity,
            moment(movement.at),
            movement.by.username,
            movement.why,
            movement.promise.booking if movement.promise else None,
        ]


def kit_promise_rows(currency: str = "") -> Rows:
    """Every promise of kit in the order they were made, with when it went out and came back. Times are in UTC."""
    yield [
        "promise",
        "kit",
        "quantity",
        "out_on",
        "back_on",
        "booking",
        "booking_name",
        "firm",
        "state",
        "made_at",
        "made_by",
        "let_go_at",
        "taken_out_at",
        "taken_out_by",
        "came_back_at",
        "came_back_by",
        "damage",
    ]
    people = ("made_by", "taken_out_by", "came_back_by")
    for held in KitPromise.objects.select_related("kit", *people).order_by("pk").iterator(_AT_A_TIME):
        yield [
            held.pk,
            held.kit.name,
            held.quantity,
            day(held.out_on),
            day(held.back_on),
            held.booking,
            held.booking_name,
            "firm" if held.firm else "tentative",
            held.state,
            moment(held.made_at),
            held.made_by.username,
            moment(held.closed_at),
            moment(held.taken_out_at),
            held.taken_out_by.username if held.taken_out_by else "",
            moment(held.came_back_at),
            held.came_back_by.username if held.came_back_by else "",
            held.damage,
        ]
