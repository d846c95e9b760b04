"""Invoices, credit notes, receipts and statements: the words they keep, and the page that becomes their PDF."""

from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from typing import Any

from django.template.loader import render_to_string

from bookings.accent import paper_rules
from bookings.paperwork.quote import Paper
from studio.models import Studio
from studio.pdf import assets_in, pdf_from_html

_STATIC = Path(__file__).resolve().parents[2] / "studio" / "static"
_ROOMY_UP_TO = 12
"""Lines a bill may have before it is set a little smaller."""


def paper_of(studio: Studio) -> Paper:
    """Letter where lengths are in feet and inches, A4 elsewhere."""
    return "letter" if studio.measures == Studio.Measures.IMPERIAL else "A4"


def sender(studio: Studio) -> dict[str, str]:
    """Who a paper comes from, as it says it."""
    return {
        "name": studio.name,
        "email": studio.email,
        "phone": studio.phone,
        "address": studio.address,
        "accent": studio.accent,
    }


def day(on: date) -> str:
    """A day on a paper: 5 June 2026."""
    return f"{on.day} {on:%B %Y}"


def short_day(on: date) -> str:
    """A day in a table’s narrow column: 5 Jun 2026."""
    return f"{on.day} {on:%b %Y}"


def bill_pdf(told: Mapping[str, Any], *, made_at: datetime, paper: Paper) -> bytes:
    """The PDF of an invoice, a credit note or a receipt; the same bytes for the same words.

    `told` holds studio (name, email, phone, address), name (“Invoice 12”), kind, client, contact, title, when, issued,
    about, currency, lines (what, note, net, tax), each_line (whether tax is shown by line), net, tax, tax_percent,
    total, total_words, and dues (what, amount, on) with pay_to.
    """
    return _pdf("paper/bill.html", told, len(told["lines"]), made_at=made_at, paper=paper)


def statement_pdf(told: Mapping[str, Any], *, made_at: datetime, paper: Paper) -> bytes:
    """The PDF of a client's statement. `told` holds studio, name, client, contact, issued, currency, lines (on, what,
    owed, paid, balance), owed, credit and late_words."""
    return _pdf("paper/statement.html", told, len(told["lines"]), made_at=made_at, paper=paper)


def _pdf(template: str, told: Mapping[str, Any], lines: int, *, made_at: datetime, paper: Paper) -> bytes:
    setting = "roomy" if lines <= _ROOMY_UP_TO else "snug"
    return pdf_from_html(
        render_to_string(template, {"told": told, "setting": setting}),
        stylesheets=[
            (_STATIC / "css" / "paper.css").read_text(encoding="utf-8"),
            (_STATIC / "css" / "bill.css").read_text(encoding="utf-8"),
            f"@page {{ size: {paper} }}",
            paper_rules(told["studio"].get("accent", "")),
        ],
        assets=assets_in(_STATIC / "fonts"),
        title=f"{told['name']} for {told['client']}",
        author=told["studio"]["name"],
        identifier=f"{told['name']}, {paper}, {made_at.isoformat()}",
        made_at=made_at,
    )
