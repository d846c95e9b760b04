"""A spreadsheet of items taken over, and everything taken out again."""

import csv
import io
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import transaction
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook

from stock import actions
from stock.models import Colour, DoubleRecipe, Item, Movement, Spreadsheet
from stock.queries import ITEM_COLUMNS, TABLES, dry_run, on_hand
from stock.spreadsheet import as_csv, as_workbook, read_table
from tests.factories import (
    NOON,
    ColourFactory,
    ItemFactory,
    KitFactory,
    KitPromiseFactory,
    MovementFactory,
    OfferFactory,
    OrderFactory,
    OrderLineFactory,
    ReservationFactory,
    UserFactory,
)

pytestmark = pytest.mark.django_db


def in_csv(rows) -> bytes:
    return "".join(as_csv(rows)).encode()


def table(*rows) -> list[list[str]]:
    """Rows of texts under the names of the columns; each row a dictionary."""
    return [list(ITEM_COLUMNS), *([str(row.get(name, "")) for name in ITEM_COLUMNS] for row in rows)]


def balloon(**changed):
    return {"colour": "Black", "swatch": "#1b1b1f", "size": "11", "on_hand": "120"} | changed


def taken_over(rows, by) -> str:
    sheet = actions.send_in(name="shelf.csv", rows=rows, by=by, at=NOON)
    return actions.take_over(spreadsheet=sheet, by=by, at=NOON)


def taken_out() -> bytes:
    return in_csv(TABLES["items"]("USD"))


def test_everything_a_spreadsheet_says_is_done_together(owner):
    old = MovementFactory(quantity=50, item=ItemFactory(colour=ColourFactory(name="Sand", swatch="#e3d3b8"))).item
    said = taken_over(
        table(
            balloon(),
            balloon(colour="sand", swatch="", on_hand="45", place="Rack 3", best_before_months="12"),
            {"sort": "line", "name": "Fishing line", "on_hand": "900", "keep_back": "100"},
        ),
        owner,
    )
    assert said == "2 new, 1 changed, 3 counted."
    old.refresh_from_db()
    assert (old.place, old.best_before_months) == ("Rack 3", 12)
    line = Item.objects.get(sort="line")
    assert (line.unit, line.keep_back) == ("ft", 100)
    black = Item.objects.get(colour__name="Black")
    assert on_hand() == {old.pk: 45, black.pk: 120, line.pk: 900}
    assert set(Movement.objects.filter(at=NOON).values_list("kind", flat=True)) == {"counted"}


def test_taking_over_twice_is_once(owner):
    sheet = actions.send_in(name="a.csv", rows=table(balloon()), by=owner, at=NOON)
    first = actions.take_over(spreadsheet=sheet, by=owner, at=NOON)
    assert actions.take_over(spreadsheet=sheet, by=owner, at=NOON) == first
    assert Movement.objects.count() == 1


def test_an_empty_cell_leaves_what_is_there(owner):
    item = ItemFactory(colour=ColourFactory(name="Black", swatch="#1b1b1f"), place="Rack 9", keep_back=7)
    taken_over(table(balloon(on_hand="")), owner)
    item.refresh_from_db()
    assert (item.place, item.keep_back, Movement.objects.count()) == ("Rack 9", 7, 0)


LETTERS = st.one_of(st.characters(codec="ascii", categories=["L", "N", "P", "S"]), st.sampled_from("=+-@'＝éß袋"))
NAMES = st.text(alphabet=LETTERS, min_size=1, max_size=12)
THINGS = st.lists(
    st.fixed_dictionaries(
        {
            "sort": st.sampled_from(["line", "hook", "ribbon", "weight", "gas", "decal", "other", "tie"]),
            "name": NAMES,
            "place": st.just("") | NAMES,
            "unit": st.just("") | NAMES,
            "keep_back": st.integers(0, 50),
            "on_hand": st.integers(0, 500),
        }
    ),
    max_size=6,
    unique_by=lambda thing: (thing["sort"], str(thing["name"]).casefold()),
)
BALLOONS = st.lists(
    st.tuples(st.sampled_from(["standard", "matte", "foil"]), st.sampled_from([5, 11, 24]), st.integers(0, 300)),
    max_size=6,
    unique_by=lambda balloon: balloon[:2],
)


@given(things=THINGS, balloons=BALLOONS)
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_what_is_taken_out_fills_an_empty_shelf_in_the_same_way(db, things, balloons):
    rows = [balloon(finish=finish, size=str(size), on_hand=str(have)) for finish, size, have in balloons]
    with transaction.atomic():
        taken_over(table(*rows, *things), UserFactory())
        out, workbook = taken_out(), as_workbook([("items", TABLES["items"]("USD"))])
        same = dry_run(read_table("items.csv", out))
        transaction.set_rollback(True)
    assert not same.faults
    assert same.does_nothing
    for name, content in (("items.csv", out), ("items.xlsx", workbook)):
        with transaction.atomic():
            assert not Item.objects.exists()
            taken_over(read_table(name, content), UserFactory())
            assert sorted(taken_out().splitlines()) == sorted(out.splitlines())
            transaction.set_rollback(True)


# The pages.


def send(browser, content: bytes, name: str = "shelf.csv"):
    sent = {"form_key": str(uuid4()), "file": SimpleUploadedFile(name, content)}
    return browser.post(reverse("stock:spreadsheet-send"), sent)


@pytest.mark.parametrize("name", ["spreadsheets", "workbook"])
def test_a_stranger_is_sent_to_sign_in_and_crew_are_refused(client, crew_client, name):
    assert client.get(reverse(f"stock:{name}")).url.startswith(reverse("login"))
    assert crew_client.get(reverse(f"stock:{name}")).status_code == 403


@pytest.mark.parametrize("name", list(TABLES))
def test_crew_take_no_table_out(crew_client, name):
    OfferFactory(price_minor=791937)
    assert crew_client.get(reverse("stock:table", args=[name])).status_code == 403
    assert send(crew_client, b"name,sort\nHooks,hook").status_code == 403
    assert not Spreadsheet.objects.exists()


def read_back(answer) -> list[list[str]]:
    text = b"".join(answer.streaming_content).decode("utf-8-sig")
    return list(csv.reader(io.StringIO(text, newline="")))


def test_every_table_holds_what_there_is(owner_client):
    item = ItemFactory(colour=ColourFactory(name="=Ink"))
    MovementFactory(item=item, quantity=-5, why="@home")
    ReservationFactory(item=item, booking_name="+Gala")
    offer = OfferFactory(item=item, price_minor=1250)
    OrderLineFactory(item=item, price_minor=99, order=OrderFactory(supplier=offer.supplier))
    inner, like = ColourFactory(), ColourFactory(name="@dusk")
    DoubleRecipe.objects.create(outer=item.colour, inner=inner, looks_like=like, swatch="#22314f")
    actions.write_count(item=item, counted=4, by=UserFactory(), at=NOON)
    KitPromiseFactory(kit=KitFactory(name="-Arch"))
    tables = {name: read_back(owner_client.get(reverse("stock:table", args=[name]))) for name in TABLES}
    assert {name: len(rows) for name, rows in tables.items()} == dict.fromkeys(TABLES, 2) | {"colours": 4}
    said = {name: dict(zip(*rows[:2], strict=True)) for name, rows in tables.items()}
    assert (said["doubles"]["outside"], said["doubles"]["stands_in_for"]) == ("'=Ink", "'@dusk")
    assert (said["lots"]["left"], said["counts"]["counted"], said["counts"]["expected"]) == ("-5", "4", "-5")
    assert said["items"]["colour"] == "'=Ink"
    assert (said["movements"]["quantity"], said["movements"]["why"]) == ("-5", "'@home")
    assert said["reservations"]["booking_name"] == "'+Gala"
    assert (said["offers"]["price"], said["offers"]["currency"]) == ("12.50", "USD")
    assert said["orders"]["price"] == "0.99"
    assert (said["kit"]["kit"], said["kit"]["owned"]) == ("'-Arch", "1")
    assert (said["kit_movements"]["kind"], said["kit_promises"]["state"]) == ("got", "promised")


def test_the_workbook_has_a_sheet_for_every_table(owner_client):
    OfferFactory(price_minor=1250)
    book = load_workbook(io.BytesIO(owner_client.get(reverse("stock:workbook")).content))
    assert book.sheetnames == list(TABLES)
    heads = [cell.value for cell in book["offers"][1]]
    assert book["offers"].cell(2, heads.index("price") + 1).value == 12.5


def test_a_table_there_is_none_of_is_not_found(owner_client):
    assert owner_client.get("/stock/spreadsheets/passwords.csv").status_code == 404


def test_a_spreadsheet_is_looked_over_before_it_is_taken_over(owner_client):
    answer = send(owner_client, in_csv(table(balloon(), balloon(size="5"))))
    page = owner_client.get(answer.url).content.decode()
    assert "2 items: 2 new, 0 kept differently, 2 counted otherwise." in page
    assert not Item.objects.exists()
    address = reverse("stock:spreadsheet-take-over", args=[Spreadsheet.objects.get().pk])
    done = owner_client.post(address, {"form_key": str(uuid4())}, follow=True)
    assert "2 new, 0 changed, 2 counted." in done.content.decode()
    assert (Item.objects.count(), Colour.objects.count()) == (2, 1)


def test_every_wrong_cell_is_on_the_page(owner_client):
    page = owner_client.get(send(owner_client, in_csv(table(balloon(size="eleven")))).url).content.decode()
    for words in ("1 cell in 1 row must be put right", 'data-label="Row">2</td>', ">size</td>", "“eleven”"):
        assert words in page


def test_what_has_gone_wrong_since_is_told_and_changes_nothing(owner_client, owner):
    sheet = actions.send_in(name="a.csv", rows=table(balloon(barcode="5")), by=owner, at=NOON)
    ItemFactory(barcode="5")
    answer = owner_client.post(reverse("stock:spreadsheet-take-over", args=[sheet.pk]), {"form_key": str(uuid4())})
    assert answer.status_code == 422
    assert "A barcode is one item" in answer.content.decode()
    assert Item.objects.count() == 1


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        pytest.param(b"", "Spreadsheet must hold something; the file is empty.", id="empty"),
        pytest.param(b"\xff\xfe", "The file must be a workbook (.xlsx) or text in UTF-8 (.csv).", id="not text"),
    ],
)
def test_a_file_that_cannot_be_read_is_told_on_its_field(owner_client, content, sentence):
    answer = send(owner_client, content)
    assert answer.status_code == 422
    assert sentence in answer.content.decode()


def test_a_form_without_a_file_says_so(owner_client):
    answer = owner_client.post(reverse("stock:spreadsheet-send"), {"form_key": str(uuid4())})
    assert answer.status_code == 422
    assert "Spreadsheet is needed; no file was chosen." in answer.content.decode()
