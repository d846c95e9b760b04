"""Tables of colours, suppliers and offers sent in: every bad row named, and out and in again the same."""

import io
import time
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import transaction
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook

from stock import actions
from stock.models import Colour, Item, Offer, Supplier
from stock.queries import TABLES, dry_run
from stock.queries.dry_run import table_of
from stock.spreadsheet import as_csv, as_workbook, read_table
from studio.models import Studio
from tests.factories import NOON, ColourFactory, ItemFactory, OfferFactory, SupplierFactory, UserFactory

pytestmark = pytest.mark.django_db

COLOUR = {"colour": "Ink", "swatch": "#22314f"}
SUPPLIER = {"supplier": "Quay"}
OFFER = {"supplier": "Quay", "colour": "Ink", "size": "11", "pack_size": "100", "price": "14.50", "lead_days": "5"}
COLUMNS = {
    "colours": ["colour", "finish", "shape", "swatch", "position", "in_use"],
    "suppliers": ["supplier", "email", "phone", "delivery", "free_from", "minimum", "currency"],
    "offers": [*OFFER, "sort", "finish", "shape", "name", "currency", "their_name", "their_code"],
}


def table(kind: str, *rows: dict[str, str]) -> list[list[str]]:
    return [COLUMNS[kind], *([row.get(name, "") for name in COLUMNS[kind]] for row in rows)]


def taken_over(rows, by) -> str:
    sheet = actions.send_in(name="a.csv", rows=rows, by=by, at=NOON)
    return actions.take_over(spreadsheet=sheet, by=by, at=NOON)


@pytest.fixture
def ink(db) -> Item:
    return ItemFactory(colour=ColourFactory(name="Ink", swatch="#22314f"), size=11)


@pytest.fixture
def quay(db) -> Supplier:
    return SupplierFactory(name="Quay", delivery_minor=900)


# What a table is of.


@pytest.mark.parametrize(
    ("heads", "table"),
    [
        pytest.param(["Colour", "Size", "On hand"], "items", id="balloons"),
        pytest.param(["sort", "name"], "items", id="things"),
        pytest.param(["colour", "swatch"], "colours", id="colours"),
        pytest.param(["Supplier", "E-mail"], "suppliers", id="suppliers"),
        pytest.param(["supplier", "colour", "size", "Pack size"], "offers", id="offers"),
        pytest.param(["supplier", "name", "price"], "offers", id="offers without a pack"),
        pytest.param([], "items", id="nothing"),
    ],
)
def test_the_columns_say_what_a_table_is_of(heads, table):
    assert table_of(heads) == table


# What it does.


def test_colours_are_added_and_changed(owner, ink):
    said = taken_over(
        table("colours", COLOUR | {"swatch": "#2a3a5a", "in_use": "no"}, {"colour": "Dawn", "swatch": "fde"}), owner
    )
    assert said == "Colours: 1 new, 1 changed."
    ink.colour.refresh_from_db()
    assert (ink.colour.swatch, ink.colour.in_use) == ("#2a3a5a", False)
    assert Colour.objects.get(name="Dawn").swatch == "#ffddee"


def test_suppliers_are_added_and_changed(owner, quay):
    rows = [{"supplier": "quay", "phone": "555-0117", "free_from": "$90"}, {"supplier": "Depot", "minimum": "25.00"}]
    assert taken_over(table("suppliers", *rows), owner) == "Suppliers: 1 new, 1 changed."
    quay.refresh_from_db()
    assert (quay.name, quay.phone, quay.delivery_minor, quay.free_from_minor) == ("Quay", "555-0117", 900, 9000)
    assert Supplier.objects.get(name="Depot").minimum_minor == 2500


def test_offers_are_added_and_changed_with_what_they_call_it(owner, ink, quay):
    old = OfferFactory(supplier=quay, item=ink, pack_size=100, price_minor=1, lead_days=9)
    rows = [OFFER | {"their_name": "Midnight", "lead_days": ""}, OFFER | {"pack_size": "50", "their_code": "=B2"}]
    assert taken_over(table("offers", *rows), owner) == "Offers: 1 new, 1 changed."
    old.refresh_from_db()
    assert (old.price_minor, old.lead_days, old.their_name) == (1450, 9, "Midnight")
    assert Offer.objects.get(pack_size=50).their_code == "=B2"


def test_an_offer_of_a_thing_goes_by_its_sort_and_name(owner, quay):
    hooks = ItemFactory(sort="hook", colour=None, size=None, name="Hooks")
    row = {"supplier": "Quay", "sort": "Hook", "name": "HOOKS", "pack_size": "40", "price": "11.5", "lead_days": "5"}
    taken_over(table("offers", row), owner)
    assert quay.offers.get().item == hooks


# What is wrong.


@pytest.mark.parametrize(
    ("kind", "row", "column", "rule"),
    [
        pytest.param("offers", {"pack_size": "0"}, "pack_size", "a whole number from 1 to 100,000", id="a pack of 0"),
        pytest.param(
            "offers", {"lead_days": "-2"}, "lead_days", "a whole number from 0 to 365", id="lead time below 0"
        ),
        pytest.param("offers", {"price": "-3"}, "price", "an amount from $0.00 to", id="price below 0"),
        pytest.param("offers", {"price": "1,5"}, "price", "An amount is written like", id="a comma for a point"),
        pytest.param("offers", {"price": "1.234"}, "price", "An amount", id="half a cent"),
        pytest.param("offers", {"price": ""}, "price", "A new offer needs its price", id="no price"),
        pytest.param("offers", {"lead_days": ""}, "lead_days", "A new offer needs its lead days", id="no lead days"),
        pytest.param("offers", {"pack_size": ""}, "pack_size", "how many are in a pack", id="no pack"),
        pytest.param("offers", {"supplier": "Nobody"}, "supplier", "one of your suppliers", id="nobody"),
        pytest.param("offers", {"colour": "Mauve"}, "all", "on the shelf's list", id="not on the shelf"),
        pytest.param("offers", {"currency": "EUR"}, "currency", "It must be USD", id="other money"),
        pytest.param("offers", {"their_name": "x" * 81}, "their_name", "at most 80 characters", id="a long name"),
        pytest.param("suppliers", {"supplier": "", "phone": "5"}, "supplier", "A supplier needs a name", id="no name"),
        pytest.param("suppliers", {"email": "quay"}, "email", "an address such as", id="no address"),
        pytest.param("suppliers", {"delivery": "free"}, "delivery", "An amount is written like", id="free in words"),
        pytest.param("colours", {"swatch": "navy"}, "swatch", "a # and six of 0-9", id="swatch in words"),
        pytest.param("colours", {"colour": "New", "swatch": ""}, "swatch", "A new colour needs", id="no swatch"),
        pytest.param("colours", {"in_use": "maybe"}, "in_use", "It must be yes or no", id="maybe"),
        pytest.param("colours", {"shape": "star"}, "shape", "Hearts and stars are foil", id="a latex star"),
    ],
)
def test_a_cell_that_breaks_a_rule_is_named_with_its_row(ink, quay, kind, row, column, rule):
    sound = {"offers": OFFER, "suppliers": SUPPLIER, "colours": COLOUR}[kind]
    other = {"offers": {"pack_size": "7"}, "suppliers": {"supplier": "B"}, "colours": {"finish": "matte"}}[kind]
    found = dry_run(table(kind, sound | other, sound | row))
    assert [(fault.row, fault.column) for fault in found.faults] == [(3, column)]
    assert rule in found.faults[0].rule


@pytest.mark.parametrize(
    ("kind", "row"),
    [("offers", OFFER), ("suppliers", SUPPLIER), ("colours", COLOUR)],
)
def test_the_same_in_two_rows_is_refused(ink, quay, kind, row):
    key = "colour" if kind == "colours" else "supplier"
    found = dry_run(table(kind, row, row | {key: row[key].upper()}))
    assert [(fault.row, fault.column) for fault in found.faults] == [(3, "all")]
    assert "this one is in row 2 already" in str(found.faults[0])


def test_a_name_that_two_suppliers_share_must_be_written_as_one_of_them_is(ink):
    SupplierFactory(name="Quay")
    other = SupplierFactory(name="QUAY")
    assert not dry_run(table("offers", OFFER, OFFER | {"supplier": "QUAY"})).faults
    (fault,) = dry_run(table("offers", OFFER | {"supplier": "quay"})).faults
    assert str(fault) == "Row 2, supplier: 2 suppliers are called so: write it as one of them is (got “quay”)."
    assert not other.offers.exists()


@pytest.mark.parametrize(
    ("heads", "rule"),
    [
        pytest.param(["supplier", "price"], "supplier, pack_size, and colour and size or name", id="offers"),
        pytest.param(["supplier", "city"], "A column must be supplier, email", id="suppliers"),
        pytest.param(["colour", "hex"], "A column must be colour, finish", id="colours"),
    ],
)
def test_columns_that_cannot_be_read_are_named(heads, rule):
    (fault,) = dry_run([heads]).faults
    assert rule in fault.rule


def test_nothing_is_taken_over_while_a_row_is_wrong(owner, ink, quay):
    with pytest.raises(actions.SpreadsheetRefusal, match=r"A cell is wrong, so .* Row 3, pack_size"):
        taken_over(table("offers", OFFER, OFFER | {"pack_size": "0"}), owner)
    assert not Offer.objects.exists()


def test_ten_thousand_offers_of_which_seven_are_wrong_are_answered_in_seconds(owner, quay):
    Item.objects.bulk_create([Item(sort="other", name=f"Thing {n}") for n in range(2_000)])
    base = {"supplier": "quay", "sort": "other", "price": "9.99", "lead_days": "3"}
    rows = [base | {"name": f"Thing {n % 2_000}", "pack_size": str(1 + n // 2_000)} for n in range(10_000)]
    wrong = {
        3: ("pack_size", "0"),
        77: ("lead_days", "-1"),
        500: ("supplier", "Nobody"),
        4_000: ("price", "dear"),
        7_123: ("their_code", "x" * 41),
        9_000: ("sort", "cat"),
        9_999: ("currency", "EUR"),
    }
    for n, (column, cell) in wrong.items():
        rows[n] = rows[n] | {column: cell}
    sent = "".join(as_csv(table("offers", *rows))).encode()
    started = time.process_time()
    found = dry_run(read_table("offers.csv", sent))
    assert time.process_time() - started < 8
    assert {(fault.row, fault.column) for fault in found.faults} == {
        (n + 2, column) for n, (column, _) in wrong.items()
    }


@pytest.mark.parametrize("kind", ["offers", "suppliers", "colours"])
def test_a_dry_run_asks_as_much_for_400_rows_as_for_40(ink, quay, kind, django_assert_max_num_queries):
    for many in (40, 400):
        rows = {
            "offers": [OFFER | {"pack_size": str(n + 1)} for n in range(many)],
            "suppliers": [{"supplier": f"S {n}"} for n in range(many)],
            "colours": [{"colour": f"C {n}", "swatch": "#ffffff"} for n in range(many)],
        }[kind]
        with django_assert_max_num_queries(4):
            assert dry_run(table(kind, *rows)).new == many


# Out and in again.

LETTERS = st.one_of(st.characters(codec="ascii", categories=["L", "N", "P", "S"]), st.sampled_from("=+-@'＝éß袋"))
NAMES = st.text(alphabet=LETTERS, min_size=1, max_size=10)
OR_NOTHING = st.just("") | NAMES
MINOR = st.integers(0, 10**7)
SUPPLIERS = st.lists(
    st.tuples(NAMES, OR_NOTHING, MINOR, st.none() | MINOR), min_size=1, max_size=4, unique_by=lambda s: s[0].casefold()
)
SHADES = st.lists(
    st.tuples(NAMES, st.sampled_from(["standard", "matte", "foil"]), st.integers(0, 0xFFFFFF), st.booleans()),
    min_size=1,
    max_size=4,
    unique_by=lambda c: (c[0].casefold(), c[1]),
)
PRICED = st.tuples(st.integers(1, 500), MINOR, st.integers(0, 365), OR_NOTHING, OR_NOTHING)


@given(
    suppliers=SUPPLIERS, shades=SHADES, priced=st.lists(PRICED, max_size=5), currency=st.sampled_from(["USD", "JPY"])
)
@settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_what_is_taken_out_and_sent_in_again_is_the_same(db, suppliers, shades, priced, currency):
    tables = ("colours", "suppliers", "items", "offers")
    with transaction.atomic():
        by = UserFactory()
        Studio.objects.update_or_create(pk=1, defaults={"name": "Tern & Tide", "currency": currency})
        made = [
            Supplier.objects.create(name=name, phone=phone, delivery_minor=minor, free_from_minor=free)
            for name, phone, minor, free in suppliers
        ]
        items = [
            Item.objects.create(
                colour=Colour.objects.create(
                    name=name, finish=finish, swatch=f"#{swatch:06x}", in_use=used, position=n
                ),
                size=11,
            )
            for n, (name, finish, swatch, used) in enumerate(shades)
        ]
        items.append(Item.objects.create(sort="hook", name="Hooks"))
        for n, (pack, price, days, name, code) in enumerate(priced):
            Offer.objects.create(
                supplier=made[n % len(made)], item=items[n % len(items)], pack_size=pack * 10 + n, price_minor=price,
                lead_days=days, their_name=name, their_code=code,
            )  # fmt: skip
        out = {name: [list(row) for row in TABLES[name](currency)] for name in tables}
        for name in tables:
            assert dry_run(read_table("a.csv", "".join(as_csv(out[name])).encode())).does_nothing
        for kind in ("csv", "xlsx"):
            with transaction.atomic():
                for table in (Offer, Item, Colour, Supplier):
                    table.objects.all().delete()
                for name in tables:
                    content = "".join(as_csv(out[name])).encode() if kind == "csv" else as_workbook([(name, out[name])])
                    taken_over(read_table(f"a.{kind}", content), by)
                again = {name: [list(row) for row in TABLES[name](currency)] for name in tables}
                assert {name: sorted(map(repr, rows)) for name, rows in again.items()} == {
                    name: sorted(map(repr, rows)) for name, rows in out.items()
                }
                transaction.set_rollback(True)
        transaction.set_rollback(True)


# The page.


def send(browser, rows):
    content = "".join(as_csv(rows)).encode()
    sent = {"form_key": str(uuid4()), "file": SimpleUploadedFile("a.csv", content)}
    return browser.post(reverse("stock:spreadsheet-send"), sent, follow=True)


def test_a_table_of_offers_is_looked_over_and_taken_over(owner_client, ink, quay):
    answer = send(owner_client, table("offers", OFFER, OFFER | {"pack_size": "50"}))
    assert "2 rows of offers: 2 new, 0 changed." in answer.content.decode()
    assert not Offer.objects.exists()
    address = answer.request["PATH_INFO"] + "take-over/"
    done = owner_client.post(address, {"form_key": str(uuid4())}, follow=True)
    assert "Offers: 2 new, 0 changed." in done.content.decode()
    assert quay.offers.count() == 2
    again = send(owner_client, table("offers", OFFER))
    assert "Everything is as the spreadsheet says already: 1 row of offers." in again.content.decode()


def test_the_page_names_the_columns_of_every_table(owner_client):
    told = owner_client.get(reverse("stock:spreadsheets")).content.decode()
    for name in ("their_code", "free_from", "in_use", "on_hand"):
        assert name in told


def test_the_workbook_holds_every_table(owner_client, ink):
    book = load_workbook(io.BytesIO(owner_client.get(reverse("stock:workbook")).content))
    assert {"items", "colours", "suppliers", "offers", "orders", "movements", "lots", "counts", "doubles"} <= set(
        book.sheetnames
    )
