"""Papers made from what is written down, whenever they are asked for: a payment's receipt, a client's statement."""

from datetime import date, datetime

from bookings.models import Client, MoneyTerms, Payment
from bookings.paperwork.bills import bill_pdf, day, paper_of, sender, short_day, statement_pdf
from bookings.queries.books import statement_lines
from bookings.queries.day_words import day_words
from bookings.queries.money import credit_of, owed_by_client
from studio.models import Studio
from studio.money import show


def receipt_paper(payment: Payment, *, studio: Studio) -> bytes:
    """The PDF of a payment's receipt, always the same for the same payment and studio."""
    currency = payment.currency
    left = f"{show(payment.left_minor, currency)} was" if payment.left_minor else "Nothing was"
    remarks = [f"{left} still to be paid after it."]
    if payment.surplus_minor:
        more = show(payment.surplus_minor, currency)
        remarks.append(f"{more} of it is more than was owed: we keep it as your credit.")
    told = {
        "studio": sender(studio),
        "name": f"Receipt {payment.number}",
        "kind": "Receipt",
        "client": payment.client.shown_name,
        "contact": _contact(payment.client),
        "title": payment.booking.shown_title,
        "when": day_words(payment.booking),
        "issued": day(payment.received_on),
        "about": "",
        "currency": currency,
        "lines_head": "Received with thanks",
        "lines": [
            {
                "what": payment.get_method_display(),
                "note": payment.note,
                "net": payment.amount_minor,
                "tax": 0,
            }
        ],
        "each_line": False,
        "shows_tax": False,
        "net": payment.amount_minor,
        "tax": 0,
        "tax_percent": "",
        "total": payment.amount_minor,
        "total_words": "Paid",
        "dues": [],
        "pay_to": [],
        "remarks": remarks,
    }
    return bill_pdf(told, made_at=payment.at, paper=paper_of(studio))


def statement_paper(client: Client, *, studio: Studio, today: date, at: datetime) -> bytes:
    """The PDF of what a client was asked to pay and has paid, up to now."""
    credit = credit_of(client.pk)
    owing = next(iter(owed_by_client(today=today, client=client.pk, held={client.pk: credit})), None)
    lines = statement_lines(client)
    if owing is None:
        said = "Nothing is owed. Thank you."
    elif owing.since is None:
        said = "Nothing is late."
    else:
        said = f"{show(owing.late, studio.currency)} is past its day, since {day(owing.since)}."
    told = {
        "studio": sender(studio),
        "name": f"Statement of {day(today)}",
        "client": client.shown_name,
        "contact": _contact(client),
        "issued": day(today),
        "currency": studio.currency,
        "lines": [
            {"on": short_day(line.on), "what": line.what, "owed": line.owed, "paid": line.paid, "balance": line.balance}
            for line in lines
        ],
        "owed": owing.owed if owing else 0,
        "credit": credit,
        "late_words": said,
        "pay_to": [row.strip() for row in MoneyTerms.objects.current().pay_to.splitlines() if row.strip()],
    }
    return statement_pdf(told, made_at=at, paper=paper_of(studio))


def _contact(client: Client) -> str:
    return ", ".join(part for part in (client.email, client.phone) if part and part != client.shown_name)
