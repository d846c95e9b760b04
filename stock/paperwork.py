"""An order to send: as paper, as a table a supplier's own system reads, and as the words of an e-mail.

And the weekly check to take along, on paper.
"""

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from urllib.parse import quote

from django.template.loader import render_to_string

from stock.models import Order, OrderLine
from stock.queries import Board
from stock.spreadsheet import as_csv
from studio.models import Studio
from studio.pdf import assets_in, pdf_from_html

_STATIC = Path(__file__).resolve().parents[1] / "studio" / "static"
MOST_ON_PAPER = 300
"""Items of the weekly check on paper; more take minutes to set and nobody reads them there."""
_ROOMY_UP_TO = 12
"""Lines an order may have before it is set a little smaller."""
_LONGEST_MAIL = 1_800
"""Characters of the words of a mailto address: some mail programs cut longer addresses off."""


def order_pdf(order: Order, lines: Sequence[OrderLine], studio: Studio, *, made_at: datetime) -> bytes:
    """The order on paper, for the supplier: what, in which packs, at which price; the same bytes for the same order."""
    name = f"Order {order.pk}"
    context = {
        "order": order,
        "lines": lines,
        "studio": studio,
        "total": sum(line.cost_minor for line in lines),
        "setting": "roomy" if len(lines) <= _ROOMY_UP_TO else "snug",
    }
    paper = "letter" if studio.measures == Studio.Measures.IMPERIAL else "A4"
    return pdf_from_html(
        render_to_string("paper/order.html", context),
        stylesheets=[
            *((_STATIC / "css" / f"{sheet}.css").read_text(encoding="utf-8") for sheet in ("paper", "bill")),
            f"@page {{ size: {paper} }}",
        ],
        assets=assets_in(_STATIC / "fonts"),
        title=f"{name} to {order.supplier.name}",
        author=studio.name,
        identifier=f"{name}, {made_at.isoformat()}",
        made_at=made_at,
    )


def cover_pdf(board: Board, studio: Studio, *, made_at: datetime) -> bytes:
    """The weekly check on paper, sideways: what runs short in words, then week by week what is booked or comes.

    What nobody booked is counted, not listed. No price: anybody may carry it.
    """
    rows = board.rows[:MOST_ON_PAPER]
    busy = [row for row in rows if row.is_short or row.is_busy]
    context = {
        "board": board,
        "studio": studio,
        "short": board.short_rows[:MOST_ON_PAPER],
        "rows": [(row, row.cells(board.mondays)) for row in busy],
        # Beyond what fits on paper nobody has looked which are booked.
        "left_out": len(board.rows) - len(rows) if len(busy) == len(rows) else 0,
        "quiet": len(board.rows) - len(busy),
    }
    paper = "letter" if studio.measures == Studio.Measures.IMPERIAL else "A4"
    name = f"Cover on {board.today.isoformat()}"
    return pdf_from_html(
        render_to_string("paper/cover.html", context),
        stylesheets=[
            (_STATIC / "css" / "paper.css").read_text(encoding="utf-8"),
            f"@page {{ size: {paper} landscape }}",
        ],
        assets=assets_in(_STATIC / "fonts"),
        title=name,
        author=studio.name,
        identifier=f"{name}, {board.sentence}, {made_at.isoformat()}",
        made_at=made_at,
    )


def order_csv(lines: Sequence[OrderLine]) -> str:
    """The order as a table; no cell of words is one a spreadsheet would take for a formula."""
    rows = [
        (line.item.label, line.packs, line.pack_size, line.quantity, line.their_name, line.their_code) for line in lines
    ]
    return "".join(as_csv([("Item", "Packs", "In a pack", "Quantity", "Your name for it", "Your order code"), *rows]))


def order_mail(order: Order, lines: Sequence[OrderLine], studio: Studio) -> str:
    """A mailto address that opens the order as an e-mail to its supplier."""
    said = [
        f"{line.packs:,} × {line.pack_size:,} {line.item.label}"
        + (f" – yours: {line.in_their_words}" if line.in_their_words else "")
        for line in lines
    ]
    shown = list(said)
    while len("\n".join(shown)) > _LONGEST_MAIL:
        shown.pop()
    if len(shown) < len(said):
        shown.append(f"and {len(said) - len(shown):,} more lines: the order on paper lists them all.")
    words = [f"Hello {order.supplier.name},", "", "we would like to order:", "", *shown, "", "Thank you", studio.name]
    subject = f"Order {order.pk} from {studio.name}"
    body = quote("\r\n".join(words))
    return f"mailto:{quote(order.supplier.email, safe='@')}?subject={quote(subject)}&body={body}"
