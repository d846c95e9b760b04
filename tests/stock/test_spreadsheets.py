"""Tables in and out of files, and what is wrong with a table of items."""

import io
import time
import zipfile

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook

from stock import actions
from stock.models import Item
from stock.queries import ITEM_COLUMNS, dry_run
from stock.spreadsheet import SpreadsheetFault, as_csv, as_workbook, plain, read_table, safe
from tests.factories import NOON, ColourFactory, ItemFactory

pytestmark = pytest.mark.django_db

RISKY = ("=", "+", "-", "@", "\t", "\r", "\n", "\0", "＝", "＋", "－", "＠")
"""What a spreadsheet program might take for the start of a formula."""


def in_csv(rows) -> bytes:
    return "".join(as_csv(rows)).encode()


def table(*rows) -> list[list[str]]:
    """Rows of texts under the names of the columns; each row a dictionary."""
    return [list(ITEM_COLUMNS), *([str(row.get(name, "")) for name in ITEM_COLUMNS] for row in rows)]


def balloon(**changed):
    return {"colour": "Black", "swatch": "#1b1b1f", "size": "11", "on_hand": "120"} | changed


# Cells.


@pytest.mark.parametrize(
    ("text", "written"),
    [
        pytest.param("=1+1", "'=1+1", id="a formula"),
        pytest.param("  =1+1", "'  =1+1", id="after spaces"),
        pytest.param("＝1+1", "'＝1+1", id="full width"),
        pytest.param("\n=1", "'\n=1", id="after a line break"),
        pytest.param("\0=1", "'\0=1", id="after NUL"),
        pytest.param("@SUM(A1)", "'@SUM(A1)", id="a function"),
        pytest.param("-5 °C gas", "'-5 °C gas", id="a minus"),
        pytest.param("'90s mix", "''90s mix", id="an apostrophe of its own"),
        pytest.param("Black - matte", "Black - matte", id="a minus inside"),
        pytest.param("", "", id="nothing"),
    ],
)
def test_no_cell_starts_a_formula(text, written):
    assert safe(text) == written
    assert plain(written) == text


def test_what_people_type_themselves_keeps_its_apostrophe():
    assert plain("'90s mix") == "'90s mix"


@given(text=st.text(alphabet=st.sampled_from([*RISKY, " ", "'", "a", "\u3000"])))
@settings(max_examples=300, deadline=None)
def test_making_safe_can_always_be_undone(text):
    assert plain(safe(text)) == text
    assert not safe(text).lstrip(" \u3000").startswith(RISKY)


TEXTS = st.text(
    alphabet=st.one_of(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]), st.sampled_from("=+-@'＝ ")),
    max_size=30,
)


def without_end(rows):
    """Rows as a reader sees them: nothing after the last that has something in it."""
    rows = [list(row) for row in rows]
    while rows and not any(cell.strip() for cell in rows[-1]):
        rows.pop()
    return rows


@given(rows=st.lists(st.lists(TEXTS, min_size=3, max_size=3), min_size=1, max_size=6))
@settings(max_examples=60, deadline=None)
def test_a_table_comes_back_from_both_kinds_of_file_as_it_went_in(rows):
    rows = [["a", "b", "c"], *rows]
    assert read_table("x.csv", in_csv(rows)) == without_end(rows)
    back = read_table("x.xlsx", as_workbook([("items", rows)]))
    assert [row + [""] * (3 - len(row)) for row in back] == without_end(rows)


@given(text=TEXTS.filter(bool))
@settings(max_examples=60, deadline=None)
def test_a_workbook_holds_texts_and_no_formulas(text):
    book = load_workbook(io.BytesIO(as_workbook([("items", [[text, 5]])])))
    cell, number = next(book.worksheets[0].iter_rows())
    assert (cell.data_type, cell.value) == ("s", safe(text))
    assert number.value == 5


@pytest.mark.parametrize(
    ("name", "content", "sentence"),
    [
        pytest.param("a.csv", b"", "The file holds no rows.", id="nothing"),
        pytest.param("a.csv", b"\n\n ,\n", "The file holds no rows.", id="only empty rows"),
        pytest.param("a.csv", b"\xff\xfe\x00", "must be a workbook (.xlsx) or text in UTF-8", id="another encoding"),
        pytest.param("a.xls", b"\xd0\xcf\x11\xe0", "save it as .xlsx or .csv", id="an old workbook"),
        pytest.param("a.xlsx", b"PK\x03\x04 and nothing", "The file is no workbook that can be read", id="broken"),
        pytest.param("a.csv", b"x\n" * 20_002, "at most 20,000 rows", id="too many rows"),
        pytest.param("a.csv", b"x," * 61 + b"y", "at most 60 columns", id="too many columns"),
        pytest.param("a.csv", b"x" * 5_000_001, "at most 5 MB", id="too large"),
    ],
)
def test_a_file_that_holds_no_table_is_refused(name, content, sentence):
    with pytest.raises(SpreadsheetFault) as fault:
        read_table(name, content)
    assert sentence in str(fault.value)


def test_a_workbook_that_unpacks_to_too_much_is_refused():
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as parts:
        parts.writestr("xl/worksheets/sheet1.xml", b"0" * 61_000_000)
    with pytest.raises(SpreadsheetFault, match="The workbook unpacks to 61,000,000 bytes"):
        read_table("a.xlsx", packed.getvalue())


def test_entities_in_a_workbook_are_refused():
    """A part that declares entities, which could multiply without end, is never expanded."""
    packed, crafted = io.BytesIO(as_workbook([("items", [["a"]])])), io.BytesIO()
    bomb = b'<!DOCTYPE b [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>'
    with zipfile.ZipFile(packed) as parts, zipfile.ZipFile(crafted, "w") as into:
        for part in parts.infolist():
            head, mark, rest = parts.read(part).partition(b"?>")
            into.writestr(part.filename, head + mark + bomb + rest if mark else bomb + head)
    assert openpyxl.DEFUSEDXML
    with pytest.raises(SpreadsheetFault, match=r"no workbook that can be read|breaks off"):
        read_table("a.xlsx", crafted.getvalue())


def test_the_separator_is_the_one_the_first_row_has():
    assert read_table("a.csv", b"name;sort\nHook, large;hook") == [["name", "sort"], ["Hook, large", "hook"]]


def test_a_byte_order_mark_is_no_part_of_the_first_name():
    assert read_table("a.csv", "\ufeffname\nHooks".encode()) == [["name"], ["Hooks"]]


# The dry run.


def faults_of(*rows):
    return [(fault.row, fault.column) for fault in dry_run(table(*rows)).faults]


MILLION = "It must be a whole number from 0 to 1,000,000"
SORTS = "It must be latex, tie, line, hook, ribbon, weight, gas, decal or other"
FINISHES = "It must be standard, matte, pearl, metallic, clear, confetti or foil"
HEARTS = "Hearts and stars are foil; other finishes are round"
SWATCH = "It must be a # and six of 0-9 and a-f, such as #1b1b1f"


@pytest.mark.parametrize(
    ("row", "column", "rule"),
    [
        pytest.param(balloon(size="eleven"), "size", "It must be a whole number from 1 to 400", id="size in words"),
        pytest.param(balloon(size=""), "size", "A balloon needs its nominal size in inches", id="no size"),
        pytest.param(balloon(colour=""), "colour", "A balloon needs its colour", id="no colour"),
        pytest.param(balloon(swatch=""), "swatch", "A new colour needs its swatch, such as #1b1b1f", id="no swatch"),
        pytest.param(balloon(swatch="black"), "swatch", SWATCH, id="swatch in words"),
        pytest.param(balloon(on_hand="-1"), "on_hand", MILLION, id="fewer than none"),
        pytest.param(balloon(on_hand="1.5"), "on_hand", MILLION, id="half a balloon"),
        pytest.param(balloon(sort="cat"), "sort", SORTS, id="no sort of ours"),
        pytest.param(balloon(finish="shiny"), "finish", FINISHES, id="no finish of ours"),
        pytest.param(balloon(shape="heart"), "shape", HEARTS, id="a latex heart"),
        pytest.param(
            balloon(name="Noir"), "name", "A balloon goes by its colour and size, without a name", id="a named balloon"
        ),
        pytest.param({"sort": "hook"}, "name", "What is no balloon needs a name", id="no name"),
        pytest.param({"sort": "hook", "name": "x" * 61}, "name", "It must be at most 60 characters long", id="long"),
        pytest.param({"sort": "hook", "name": "a\0b"}, "name", "It must hold no control characters", id="NUL"),
        pytest.param(
            balloon(best_before_months="241"),
            "best_before_months",
            "It must be a whole number from 0 to 240",
            id="good for ever",
        ),
    ],
)
def test_a_cell_that_breaks_a_rule_is_named_with_its_row(row, column, rule):
    found = dry_run(table(balloon(colour="White"), row))
    assert [(fault.row, fault.column, fault.rule) for fault in found.faults] == [(3, column, rule)]


def test_a_fault_says_row_column_rule_and_value():
    (fault,) = dry_run(table(balloon(size="eleven"))).faults
    assert str(fault) == "Row 2, size: It must be a whole number from 1 to 400 (got “eleven”)."


@pytest.mark.parametrize(
    ("heads", "column"),
    [
        pytest.param(["colour", "size", "price"], "column 3", id="an unknown one"),
        pytest.param(["colour", "size", "Colour"], "colour", id="one twice"),
        pytest.param(["sort", "place"], "all", id="neither balloon nor name"),
    ],
)
def test_columns_that_cannot_be_read_are_named(heads, column):
    assert [fault.column for fault in dry_run([heads]).faults] == [column]


def test_columns_may_be_written_as_people_write_them():
    found = dry_run([["Name", "SORT", "Keep back", "on-hand"], ["Hooks", "Hook", "5", "40"]])
    assert not found.faults
    assert found.planned[0].item.keep_back == 5


def test_an_item_in_two_rows_is_refused():
    assert faults_of(balloon(), balloon(on_hand="5")) == [(3, "all")]


def test_a_barcode_of_another_item_is_refused():
    ItemFactory(barcode="123")
    assert faults_of(balloon(barcode="123")) == [(2, "barcode")]
    assert faults_of(balloon(barcode="9"), balloon(size="5", barcode="9")) == [(3, "barcode")]


def test_a_known_colour_keeps_its_swatch():
    ColourFactory(name="Black", swatch="#000000")
    assert faults_of(balloon()) == [(2, "swatch")]
    assert faults_of(balloon(swatch="")) == []


def test_a_cell_under_no_column_is_named():
    found = dry_run([["name", "sort", ""], ["Hooks", "hook", "left over"]])
    assert [(fault.row, fault.column) for fault in found.faults] == [(2, "column 3")]


def test_a_thing_with_a_name_keeps_its_colour_and_size():
    ItemFactory(sort="tie", name="260s", size=260, colour=ColourFactory(name="Black", swatch="#1b1b1f"))
    row = {"sort": "tie", "name": "260s", "colour": "White", "swatch": "#ffffff", "size": "160"}
    assert faults_of(row) == [(2, "colour"), (2, "size")]


def test_ten_thousand_rows_of_which_seven_are_wrong_are_answered_in_seconds(owner):
    rows = [
        {"sort": "other", "name": f"Thing {n}", "on_hand": str(n), "place": f"Rack {n % 40}", "barcode": f"{n:013}"}
        for n in range(10_000)
    ]
    wrong = {
        3: ("on_hand", "-4"),
        77: ("sort", "cat"),
        500: ("name", ""),
        4_000: ("keep_back", "many"),
        7_123: ("place", "x" * 41),
        9_000: ("barcode", f"{8_999:013}"),
        9_999: ("size", "0"),
    }
    for n, (column, cell) in wrong.items():
        rows[n] = rows[n] | {column: cell}
    started = time.process_time()
    found = dry_run(read_table("things.csv", in_csv(table(*rows))))
    assert time.process_time() - started < 8
    expected = {(n + 2, column) for n, (column, _) in wrong.items()}
    assert {(fault.row, fault.column) for fault in found.faults} == expected
    sheet = actions.send_in(name="things.csv", rows=table(*rows), by=owner, at=NOON)
    with pytest.raises(actions.SpreadsheetRefusal, match="7 cells are wrong, so nothing was taken over"):
        actions.take_over(spreadsheet=sheet, by=owner, at=NOON)
    assert not Item.objects.exists()


def test_a_dry_run_asks_as_much_for_400_rows_as_for_40(django_assert_num_queries):
    for many in (40, 400):
        rows = [balloon(size=str(n + 1)) for n in range(many)]
        with django_assert_num_queries(3):
            dry_run(table(*rows))
