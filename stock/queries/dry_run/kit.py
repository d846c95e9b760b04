"""Tables of kit."""

from collections.abc import Mapping
from decimal import Decimal, InvalidOperation

from django.db.models import Q, Sum

from stock.models import MOST_PRICE_MINOR, Kit, KitPromise
from stock.models.kit import MOST_CARRIED_GRAMS, MOST_CLEANING_DAYS, MOST_KIT, MOST_KIT_GRAMS, TALLEST_MM
from stock.queries.dry_run.buying import check_currency, planned
from stock.queries.dry_run.found import PlannedRecord
from stock.queries.dry_run.sheet import SheetCheck
from stock.queries.kit_tables import KIT_COLUMNS
from stock.weighing import MOST_LITRES
from studio.models import Studio


class KitCheck(SheetCheck):
    """One pass over a table of kit."""

    columns = KIT_COLUMNS
    longest: Mapping[str, int] = {"kit": 60, "place": 40, "notes": 1000}
    of_many_lines = frozenset({"notes"})
    bounds: Mapping[str, tuple[int, int]] = {
        "owned": (0, MOST_KIT),
        "cleaning_days": (0, MOST_CLEANING_DAYS),
        "weight_grams": (1, MOST_KIT_GRAMS),
        "room_millilitres": (1, 1000 * MOST_LITRES),
        "carries_grams": (1, MOST_CARRIED_GRAMS),
    }

    def missing_columns(self, names: set[str]) -> str:
        """Kit goes by its name."""
        return "" if "kit" in names else "The first row must name the column kit"

    def learn(self) -> None:
        """The studio's kit, what is out and what is promised of it, and the money it reckons in. Three statements."""
        self.kit = {kit.name.casefold(): kit for kit in Kit.objects.with_owned()}
        standing = KitPromise.objects.standing().order_by().values("kit")
        out = Sum("quantity", filter=Q(taken_out_at__isnull=False), default=0)
        self.out: dict[int, int] = dict(standing.annotate(out=out).values_list("kit", "out"))
        self.currency = Studio.objects.current().currency
        self.seen: dict[str, int] = {}

    def check_row(self) -> None:
        """A name, how many are owned, how it is looked after, and what a ladder reaches and carries."""
        name = self.cells["kit"]
        if not name:
            self.fault("kit", "Kit needs a name", "")
        known = self.kit.get(name.casefold())
        sort = self.choice("sort", Kit.Sort.values, "") if self.cells.get("sort") else None
        numbers = {column: self.number_in(column) for column in self.bounds}
        owned = numbers.pop("owned")
        said: dict[str, object] = {**numbers, "sort": sort, "height_mm": self.height()}
        said["wear_minor"] = self.amount_in("wear", self.currency, MOST_PRICE_MINOR)
        check_currency(self, self.currency)
        said |= {column: self.cells.get(column) or None for column in ("place", "notes")}
        retired = self.choice("retired", ("yes", "no"), "no") if self.cells.get("retired") else None
        self.check_ladder(known, said)
        self.check_promises(known, owned, retired)
        if self.faulty or not self.is_new_to(self.seen, name.casefold(), "kit", name):
            return
        found = planned(known, Kit(name=name), said)
        is_retired = known is not None and known.retired_at is not None
        before = 0 if known is None else known.owned
        if owned is None and known is None:
            owned = 1
        self.found.records.append(
            PlannedRecord(
                found.record,
                found.is_new,
                found.changed,
                difference=None if owned is None or owned == before else owned - before,
                retires=None if retired is None or (retired == "yes") == is_retired else retired == "yes",
            )
        )

    def height(self) -> Decimal | None:
        """A height in millimetres, None where the cell is empty or wrong."""
        cell = self.cells.get("height_mm", "")
        if not cell:
            return None
        try:
            height = Decimal(cell) if cell.isascii() and len(cell) < 16 else Decimal(0)
        except InvalidOperation:
            height = Decimal(0)
        if not (height.is_finite() and 1 <= height <= TALLEST_MM and height == round(height, 4)):
            self.fault("height_mm", f"It must be 1 to {TALLEST_MM:,} millimetres, to four places", cell)
            return None
        return height

    def check_ladder(self, known: Kit | None, said: Mapping[str, object]) -> None:
        """Only a ladder has a height and a duty rating."""
        sort = said["sort"] or (Kit.Sort.FRAME.value if known is None else known.sort)
        if sort == Kit.Sort.LADDER:
            return
        for column in ("height_mm", "carries_grams"):
            value = said[column] or getattr(known, column, None)
            if value is not None:
                self.fault(column, "Only a ladder has a height and a duty rating", str(value))

    def check_promises(self, known: Kit | None, owned: int | None, retired: str | None) -> None:
        """What is out is owned, and what is promised is in use."""
        if known is None:
            return
        out = self.out.get(known.pk, 0)
        if owned is not None and owned < out:
            self.fault("owned", f"It must be {out:,} or more, for so many are out", str(owned))
        if retired == "yes" and known.retired_at is None and known.pk in self.out:
            self.fault("retired", "It is promised to a job or out with one; that must be over first", retired)
