"""The run sheet on paper: who does the job carries it, and its last page is the strike. No price is on it."""

from datetime import datetime
from pathlib import Path

from django.template.loader import render_to_string

from bookings.queries.run_sheet import RunSheet
from studio.models import Studio
from studio.pdf import Asset, assets_in, pdf_from_html

_STATIC = Path(__file__).resolve().parents[2] / "studio" / "static"


def run_sheet_pdf(sheet: RunSheet, studio: Studio, *, made_at: datetime) -> bytes:
    """The sheet as it stands; across its top what is not cleared, where anything is not."""
    booking = sheet.booking
    name = f"Run sheet of booking {booking.pk}"
    context = {"sheet": sheet, "booking": booking, "studio": studio, "made_at": made_at}
    size = "letter" if studio.measures == Studio.Measures.IMPERIAL else "A4"
    names = ("paper", "paper-list", "paper-run-sheet")
    sheets = [(_STATIC / "css" / f"{sheet_name}.css").read_text(encoding="utf-8") for sheet_name in names]
    pictures = {
        f"piece-{piece.key}.svg": Asset(piece.paper_picture.encode(), "image/svg+xml") for piece in sheet.pieces
    }
    return pdf_from_html(
        render_to_string("paper/run_sheet.html", context),
        stylesheets=[*sheets, f"@page {{ size: {size} }}"],
        assets=assets_in(_STATIC / "fonts") | pictures,
        title=f"{name}, {booking.shown_title}",
        author=studio.name,
        identifier=f"{name}, {made_at.isoformat()}",
        made_at=made_at,
    )
