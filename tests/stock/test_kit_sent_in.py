"""A table of kit sent in: every bad cell named, owned counted, and out and in again the same."""

import datetime as dt
from decimal import Decimal

import pytest
from django.db import transaction
from django.db.models import CharField, Value
from django.db.models.functions import Cast, Concat
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from stock import actions
from stock.models import Kit, KitMovement
from stock.queries import TABLES, dry_run
from stock.queries.dry_run import table_of
from stock.spreadsheet import as_csv, as_workbook, read_table
from studio.models import Studio
from tests.factories import NOON, KitFactory, KitPromiseFactory, UserFactory

pytestmark = pytest.mark.django_db

COLUMNS = [
    "kit", "sort", "owned", "cleaning_days", "wear", "currency", "weight_grams", "room_millilitres", "place",
    "height_mm", "carries_grams", "retired", "notes",
]  # fmt: skip


def table(*rows: dict[str, str]) -> list[list[str]]:
    return [COLUMNS, *([row.get(name, "") for name in COLUMNS] for row in rows)]


def taken_over(rows, by) -> str:
    sheet = actions.send_in(name="a.csv", rows=rows, by=by, at=NOON)
    return actions.take_over(spreadsheet=sheet, by=by, at=NOON)


def owned(name: str) -> int:
    return Kit.objects.with_owned().get(name=name).owned


def faults(*rows: dict[str, str]) -> list[tuple[str, str]]:
    return [(fault.column, str(fault)) for fault in dry_run(table(*rows)).faults]


def test_whoever_names_kit_writes_of_kit():
    assert table_of(["Kit", "Owned"]) == table_of(["kit"]) == "kit"


def test_kit_is_added_counted_and_changed(owner):
    KitFactory(name="Arch frame", owned=2, wear_minor=500)
    said = taken_over(
        table(
            {"kit": "arch FRAME", "owned": "5", "wear": "7.50", "notes": "Bent, left\nfoot"},
            {"kit": "Ladder", "sort": "ladder", "height_mm": "1828.8", "carries_grams": "136000"},
            {"kit": "Plates", "owned": "0", "retired": "yes"},
        ),
        owner,
    )
    assert said == "Kit: 2 new, 1 changed, 2 counted."
    frame, ladder = Kit.objects.get(name="Arch frame"), Kit.objects.get(name="Ladder")
    assert (frame.wear_minor, frame.notes, frame.cleaning_days) == (750, "Bent, left\nfoot", 1)
    assert (ladder.height_mm, ladder.carries_grams) == (Decimal("1828.8"), 136_000)
    assert Kit.objects.get(name="Plates").retired_at == NOON
    # Of what is new and says nothing there is one, as on its form.
    assert (owned("Arch frame"), owned("Ladder"), owned("Plates")) == (5, 1, 0)
    latest = KitMovement.objects.filter(kit=frame).latest("pk")
    assert (latest.kind, latest.quantity, latest.by) == ("counted", 3, owner)
    assert latest.why.startswith("spreadsheet ")


def test_what_was_retired_is_taken_up_again(owner):
    KitFactory(name="Arch frame", retired_at=NOON)
    assert taken_over(table({"kit": "Arch frame", "retired": "no"}), owner) == "Kit: 0 new, 1 changed, 0 counted."
    assert Kit.objects.get().retired_at is None


@pytest.mark.parametrize(
    ("row", "column", "rule"),
    [
        pytest.param({"kit": "", "owned": "2"}, "kit", "Kit needs a name (got nothing)", id="no name"),
        pytest.param({"sort": "boat"}, "sort", "It must be frame, stand, ladder", id="sort"),
        pytest.param({"owned": "-1"}, "owned", "a whole number from 0 to 10,000 (got “-1”)", id="owned"),
        pytest.param({"cleaning_days": "61"}, "cleaning_days", "from 0 to 60", id="cleaning"),
        pytest.param({"wear": "dear"}, "wear", "(got “dear”)", id="wear"),
        pytest.param({"currency": "EUR"}, "currency", "It must be USD", id="currency"),
        pytest.param({"weight_grams": "0"}, "weight_grams", "from 1 to 1,000,000", id="weight"),
        pytest.param({"height_mm": "1800"}, "height_mm", "Only a ladder has a height", id="a tall frame"),
        pytest.param({"sort": "ladder", "height_mm": "x"}, "height_mm", "1 to 30,000 millimetres", id="height"),
        pytest.param({"sort": "ladder", "height_mm": "1.00001"}, "height_mm", "to four places", id="too fine"),
        pytest.param({"sort": "ladder", "height_mm": "NaN"}, "height_mm", "(got “NaN”)", id="no number"),
        pytest.param({"retired": "maybe"}, "retired", "It must be yes or no", id="retired"),
        pytest.param({"notes": "x" * 1001}, "notes", "at most 1000 characters", id="long notes"),
        pytest.param({"place": "a\nb"}, "place", "no control characters", id="a place of two lines"),
    ],
)
def test_a_bad_cell_is_named_with_its_rule_and_what_it_says(row, column, rule):
    ((where, said),) = faults({"kit": "Arch frame"} | row)
    assert (where, rule in said) == (column, True), said


def test_a_ladder_that_has_a_height_becomes_no_frame():
    KitFactory(name="Ladder", sort="ladder", height_mm=1800)
    ((column, said),) = faults({"kit": "Ladder", "sort": "frame"})
    assert (column, "Only a ladder has a height" in said) == ("height_mm", True)


def test_the_same_kit_twice_is_named():
    ((column, said),) = faults({"kit": "Arch frame"}, {"kit": "ARCH frame"})
    assert (column, "this one is in row 2 already" in said) == ("all", True)


def test_no_fewer_are_owned_than_are_out_and_nothing_promised_is_retired():
    frame = KitFactory(name="Arch frame", owned=3)
    held = KitPromiseFactory(kit=frame, quantity=2)
    assert [column for column, _ in faults({"kit": "Arch frame", "owned": "1", "retired": "yes"})] == ["retired"]
    actions.take_kit_out(promises=[held.pk], by=held.made_by, at=NOON)
    assert [said for _, said in faults({"kit": "Arch frame", "owned": "1", "retired": "yes"})] == [
        "Row 2, owned: It must be 2 or more, for so many are out (got “1”).",
        "Row 2, retired: It is promised to a job or out with one; that must be over first (got “yes”).",
    ]
    assert faults({"kit": "Arch frame", "owned": "2"}) == []


def test_nothing_is_written_while_a_cell_is_wrong(owner):
    with pytest.raises(actions.SpreadsheetRefusal, match="Row 3, owned"):
        taken_over(table({"kit": "Arch frame"}, {"kit": "Plates", "owned": "many"}), owner)
    assert not Kit.objects.exists()


def test_a_dry_run_asks_as_much_for_400_rows_as_for_40(django_assert_max_num_queries):
    for many in (40, 400):
        with django_assert_max_num_queries(4):
            assert dry_run(table(*({"kit": f"Plate {n}"} for n in range(many)))).new == many


def test_what_was_got_broken_and_promised_goes_out_with_when_it_went_and_came_back(owner):
    frame = KitFactory(name="=Arch frame", owned=3)
    held = KitPromiseFactory(kit=frame, quantity=2, booking=7, booking_name="Gala", made_by=owner)
    actions.take_kit_out(promises=[held.pk], by=owner, at=NOON)
    back = NOON + dt.timedelta(days=1)
    actions.bring_kit_back(promises=[held.pk], by=owner, at=back, broken=1, damage="@bent")
    heads, got, broken = list(TABLES["kit_movements"]("USD"))
    assert [dict(zip(heads, row, strict=True))["quantity"] for row in (got, broken)] == [3, -1]
    assert dict(zip(heads, broken, strict=True))["booking"] == 7
    heads, row = list(TABLES["kit_promises"]("USD"))
    said = dict(zip(heads, row, strict=True))
    assert (said["state"], said["damage"], said["came_back_at"]) == ("back", "@bent", f"{back:%Y-%m-%d %H:%M:%S}")
    written = "".join(as_csv(TABLES["kit_promises"]("USD")))
    assert "'=Arch frame" in written
    assert "'@bent" in written


LETTERS = st.one_of(st.characters(codec="ascii", categories=["L", "N", "P", "S"]), st.sampled_from("=+-@'＝éß袋"))
NAMES = st.text(alphabet=LETTERS, min_size=1, max_size=10)
NOTES = st.lists(st.just("") | NAMES, max_size=3).map("\n".join).map(str.strip)
KIT = st.tuples(
    NAMES, st.sampled_from(["frame", "ladder"]), st.integers(0, 20), st.integers(0, 10**6), NOTES, st.booleans()
)


@given(
    kit=st.lists(KIT, min_size=1, max_size=4, unique_by=lambda k: k[0].casefold()),
    currency=st.sampled_from(["USD", "JPY"]),
)
@settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_what_is_taken_out_and_sent_in_again_is_the_same(db, kit, currency):
    with transaction.atomic():
        by = UserFactory()
        Studio.objects.update_or_create(pk=1, defaults={"name": "Tern & Tide", "currency": currency})
        for name, sort, many, wear, notes, is_retired in kit:
            tall = Decimal("1828.8") if sort == "ladder" else None
            actions.add_kit(
                kit=Kit(
                    name=name, sort=sort, wear_minor=wear, notes=notes, height_mm=tall, weight_grams=900,
                    retired_at=NOON if is_retired else None,
                ),
                owned=many,
                by=by,
                at=NOON,
            )  # fmt: skip
        out = [list(row) for row in TABLES["kit"](currency)]
        assert dry_run(read_table("a.csv", "".join(as_csv(out)).encode())).does_nothing
        names = [row[0] for row in out[1:]]
        for kind, content in (("csv", "".join(as_csv(out)).encode()), ("xlsx", as_workbook([("kit", out)]))):
            # What was counted is written for good, so the old ones make room instead of going.
            aside = Concat(Value(f"before {kind} "), Cast("pk", CharField()))
            Kit.objects.filter(name__in=names).update(name=aside)
            taken_over(read_table(f"a.{kind}", content), by)
            again = [list(row) for row in TABLES["kit"](currency) if row[0] in names]
            assert again == out[1:]
        transaction.set_rollback(True)
