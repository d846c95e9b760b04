"""Tables in and out of files: comma-separated text and workbooks.

Cells go in and out as text. One that a spreadsheet program would take for a formula is written with a mark in front,
and the mark is taken off when the table comes back.
"""

import csv
import datetime as dt
import io
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from typing import Any

MOST_BYTES = 5_000_000
MOST_ROWS = 20_000
MOST_COLUMNS = 60
LONGEST_CELL = 2_000
_MOST_UNPACKED = 60_000_000
_MARK = "'"
_STARTS_A_FORMULA = frozenset("=+-@\t\r\n\0＝＋－＠|%")
_REPLACEMENT = "\N{REPLACEMENT CHARACTER}"

Cell = str | int | Decimal | None


class SpreadsheetFault(ValueError):
    """A file that holds no table we can read; the message is a sentence for the page."""


def safe(text: str) -> str:
    """`text` so that no spreadsheet program runs it: with an apostrophe before what would start a formula.

    Also before what starts with an apostrophe, so that `plain` can always undo it.
    """
    return _MARK + text if _is_marked(text) else text


def plain(text: str) -> str:
    """What `safe` was given."""
    return text[1:] if text.startswith(_MARK) and _is_marked(text[1:]) else text


def as_csv(rows: Iterable[Sequence[Cell]]) -> Iterator[str]:
    """Rows as comma-separated text, one line at a time, as RFC 4180 has it; the first begins with a byte order mark.

    Numbers stay numbers; texts are made safe.
    """
    line = io.StringIO()
    writer = csv.writer(line, lineterminator="\r\n")
    yield "\N{ZERO WIDTH NO-BREAK SPACE}"
    for row in rows:
        writer.writerow([_shown(cell) for cell in row])
        yield line.getvalue()
        line.seek(0)
        line.truncate()


def as_workbook(sheets: Iterable[tuple[str, Iterable[Sequence[Cell]]]]) -> bytes:
    """A workbook of named sheets. Texts are made safe and written as texts, never as formulas."""
    from openpyxl import Workbook
    from openpyxl.cell import WriteOnlyCell

    book = Workbook(write_only=True)
    for name, rows in sheets:
        sheet = book.create_sheet(name)
        for row in rows:
            cells = []
            for value in row:
                cell = WriteOnlyCell(sheet, value=_printable(_shown(value)) if isinstance(value, str) else value)
                if isinstance(value, str):
                    cell.data_type = "s"
                cells.append(cell)
            sheet.append(cells)
    written = io.BytesIO()
    book.save(written)
    return written.getvalue()


def read_table(name: str, content: bytes) -> list[list[str]]:
    """The rows of a file as texts, without empty rows at the end; of a workbook, its first sheet.

    Raises `SpreadsheetFault` for what is too large, no table, or nothing at all.
    """
    if len(content) > MOST_BYTES:
        raise SpreadsheetFault(f"A file may have at most {MOST_BYTES // 1_000_000} MB (got {len(content):,} bytes).")
    is_workbook = content[:4] == b"PK\x03\x04"
    if name.lower().endswith(".xls"):
        raise SpreadsheetFault(f"“{name[:60]}” is an old kind of workbook: save it as .xlsx or .csv.")
    rows: list[list[str]] = []
    for row in _workbook_rows(content) if is_workbook else _text_rows(content):
        if len(rows) > MOST_ROWS:
            raise SpreadsheetFault(f"A file may have at most {MOST_ROWS:,} rows; this one has more.")
        if len(row) > MOST_COLUMNS and any(row[MOST_COLUMNS:]):
            raise SpreadsheetFault(f"A row may have at most {MOST_COLUMNS} columns (got {len(row):,}).")
        rows.append([cell[:LONGEST_CELL] for cell in row[:MOST_COLUMNS]])
    while rows and not any(cell.strip() for cell in rows[-1]):
        rows.pop()
    if not rows:
        raise SpreadsheetFault("The file holds no rows.")
    return rows


def _is_marked(text: str) -> bool:
    bare = text.lstrip(" \u00a0\u3000\u200b\ufeff")
    return text.startswith(_MARK) or (bare[:1] in _STARTS_A_FORMULA and bool(bare))


def _shown(cell: Cell) -> str | int | Decimal:
    return "" if cell is None else safe(cell) if isinstance(cell, str) else cell


def _printable(text: str | int | Decimal) -> str | int | Decimal:
    """Without the control characters a workbook cannot hold."""
    if not isinstance(text, str):
        return text
    return "".join(letter if letter >= " " or letter in "\t\n\r" else _REPLACEMENT for letter in text)


def _text_rows(content: bytes) -> Iterator[list[str]]:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise SpreadsheetFault("The file must be a workbook (.xlsx) or text in UTF-8 (.csv).") from error
    first = text.split("\n", 1)[0]
    separator = max(",;\t", key=first.count)
    csv.field_size_limit(MOST_BYTES)
    try:
        for row in csv.reader(io.StringIO(text, newline=""), delimiter=separator):
            yield [plain(cell) for cell in row]
    except csv.Error as error:
        raise SpreadsheetFault(f"The file is no table of comma-separated text ({error}).") from error


def _workbook_rows(content: bytes) -> Iterator[list[str]]:
    from openpyxl import load_workbook

    try:
        with zipfile.ZipFile(io.BytesIO(content)) as parts:
            unpacked = sum(part.file_size for part in parts.infolist())
        if unpacked > _MOST_UNPACKED:
            raise SpreadsheetFault(f"The workbook unpacks to {unpacked:,} bytes; {_MOST_UNPACKED:,} are the most.")
        book = load_workbook(io.BytesIO(content), read_only=True, data_only=True)
    except SpreadsheetFault:
        raise
    except Exception as error:
        # Whatever the reader stumbles over, the file is no workbook of ours to mend.
        raise SpreadsheetFault("The file is no workbook that can be read: save it again as .xlsx or .csv.") from error
    try:
        for row in book.worksheets[0].iter_rows(max_col=MOST_COLUMNS + 1, values_only=True):
            texts = [plain(_text_of(value)) for value in row]
            # The reader fills every row up to the widest it may be.
            while texts and not texts[-1]:
                texts.pop()
            yield texts
    except SpreadsheetFault:
        raise
    except Exception as error:
        raise SpreadsheetFault("The workbook breaks off in the middle: save it again as .xlsx or .csv.") from error
    finally:
        book.close()


def _text_of(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    if isinstance(value, dt.datetime):
        return value.date().isoformat() if value.time() == dt.time() else value.isoformat(sep=" ")
    return str(value)
