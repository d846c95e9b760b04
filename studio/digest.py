"""The Monday mail: the week in plain sentences, from the same figures as the pages."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from bookings.diary import Clash
from bookings.models import Question
from bookings.queries import ComingUp
from bookings.queries.money import Owed, owed_by_booking
from bookings.queries.people import what_clashes
from bookings.queries.prep_load import PrepDay, PrepJob, prep_load
from bookings.queries.questions import waiting_questions
from bookings.staffing import CannotGo
from stock.queries.orders_due import OrderDue, OrderToPlace, orders_due, orders_to_place
from studio.models import OutgoingMail, Studio, User
from studio.money import show
from studio.outbox.queue import Letter, post
from studio.templatetags.look import clock, day, long_day
from studio.this_week import DAYS_AHEAD, DAYS_FULL, ThisWeek, this_week

DAYS = 7
"""How many days count as this week, today among them."""

MOST_MAILED = 7_800
"""Letters of a mail; the column holds a few more."""

Section = tuple[str, list[str]]


@dataclass(frozen=True)
class Digest:
    """What the owner reads on a Monday. `until` is the last day of it.

    `due` are the bookings with money to be paid by then, each as it stands on the day after: its `late` is how
    much that is, and its `since` the first day it is owed from. `late` is booking key to how much of it is past its
    day already. `to_place` are orders planned and not placed, `full` the days of the next year that cannot take their
    jobs and `cannot_go` the people who cannot be where they should on them, and `questions` those of clients that
    nobody answered.
    """

    studio: Studio
    week: ThisWeek
    until: date
    orders: list[OrderDue]
    to_place: list[OrderToPlace]
    prep: list[PrepDay]
    due: list[Owed]
    late: dict[int, int]
    full: list[Clash]
    cannot_go: list[CannotGo]
    questions: list[Question]

    @property
    def today(self) -> date:
        """The day it is of."""
        return self.week.today

    @property
    def subject(self) -> str:
        """What stands over it: “The week from Monday 1 June at Tern & Tide Balloons”."""
        return f"The week from {long_day(self.today)} at {self.studio.name}"


def digest(today: date, *, studio: Studio) -> Digest:
    """The seven days from `today`, with all that only an owner may know."""
    until = today + timedelta(days=DAYS - 1)
    clashing = what_clashes(today, today + timedelta(days=DAYS_FULL), today=today, zone=studio.zone)
    return Digest(
        studio=studio,
        week=this_week(today, with_money=True),
        until=until,
        orders=orders_due(today, until=until),
        to_place=orders_to_place(),
        prep=prep_load(today=today, until=until, currency=studio.currency),
        due=[one for one in owed_by_booking(today=until + timedelta(days=1)) if one.late],
        late={one.booking.pk: one.late for one in owed_by_booking(today=today) if one.late},
        full=clashing.full,
        cannot_go=clashing.cannot_go,
        questions=list(waiting_questions()),
    )


def sentences(found: Digest) -> list[str]:
    """The whole mail as lines of text: what it is of, what runs short, then whatever else there is to say."""
    lines = [f"{found.subject}.", "", *_short(found)]
    rest = [section for section in _sections(found) if section[1]]
    for heading, told in rest:
        lines += ["", heading, *told]
    if not rest:
        lines += [f"Nothing is due, nobody waits for an answer, and no booked job comes in the next {DAYS_AHEAD} days."]
    return lines


def mail_digest(found: Digest, *, at: datetime) -> list[OutgoingMail]:
    """Post it to every owner who has an address, or else to the studio's; the letters. Once a day each."""
    owners = User.objects.filter(role=User.Role.OWNER, is_active=True).exclude(email="").order_by("pk")
    to = [(f"owner:{owner.pk}", owner.email, owner.shown_name) for owner in owners]
    if not to and found.studio.email:
        to = [("studio", found.studio.email, found.studio.name)]
    # A client's own words are no place for a link.
    text = "\n".join(sentences(found)).replace("{link}", "{ link }")
    if len(text) > MOST_MAILED:
        text = f"{text[:MOST_MAILED].rpartition(chr(10))[0]}\n\nThere is more: This week has all of it."
    return [
        post(
            Letter("digest", address, name, found.subject, text),
            key=f"digest:{found.today.isoformat()}:{who}",
            about=None,
            base="",
            at=at,
        )
        for who, address, name in to
    ]


def _short(found: Digest) -> list[str]:
    board = found.week.board
    if board.short_rows:
        return [line for row in board.short_rows for line in row.told]
    if not board.rows:
        return ["Nothing runs short: nothing is listed on the shelf yet."]
    return [f"Nothing runs short: the shelf covers every booked job of the next {board.weeks} weeks."]


def _sections(found: Digest) -> Iterator[Section]:
    week = found.week
    yield "Questions", [_question_words(one) for one in found.questions]
    yield "Too much on a day", [clash.sentence for clash in found.full]
    yield "Who cannot go", [one.sentence for one in found.cannot_go]
    yield "Kit", [clash.sentence for clash in week.clashes]
    yield "Orders", [_order_words(one) for one in found.orders] + [_to_place_words(one) for one in found.to_place]
    yield "Prep", [_prep_words(one) for one in found.prep]
    yield "Coming up", [_coming_words(up) for up in week.coming]
    yield "Just over", [f"{one.words}: {one.booking.shown_title}." for one in week.over]
    yield "Money", [_owed_words(one, found) for one in found.due]
    yield "Waiting on someone", [f"{one.title}: {one.note}; {one.word}." for one in week.waiting]


def _question_words(one: Question) -> str:
    said = " ".join(one.text.split())
    said = said if len(said) <= 90 else f"{said[:89].rstrip()}…"
    return f"{one.booking.client.shown_name} asks about {one.booking.shown_title}: “{said}”"


def _order_words(one: OrderDue) -> str:
    name = f"Order {one.order.pk} from {one.order.supplier.name}"
    if one.is_late:
        return f"{name} was due on {day(one.expected_on)} and is not here: {one.to_come:,} to come."
    return f"{name} is due on {day(one.expected_on)}: {one.to_come:,} to come."


def _to_place_words(one: OrderToPlace) -> str:
    return f"The order planned with {one.order.supplier.name} ({_counted(one.lines, 'line')}) is not placed yet."


def _prep_words(one: PrepDay) -> str:
    jobs = "; ".join(_prep_job_words(job) for job in one.jobs)
    return f"{day(one.day)}: {clock(one.minutes)} of work. {jobs}."


def _prep_job_words(job: PrepJob) -> str:
    takes = "nothing to make yet" if job.minutes is None else clock(job.minutes)
    people = "1 person" if job.booking.crew == 1 else f"{job.booking.crew} people"
    return f"{job.booking.shown_title}, {takes}, {people}"


def _coming_words(up: ComingUp) -> str:
    when = up.booking.event_on or up.booking.needed_on
    made = up.made or "nothing to make yet"
    return f"{day(when)}: {up.booking.shown_title}, {made}; {up.short_words if up.short else 'covered'}."


def _owed_words(one: Owed, found: Digest) -> str:
    amount = show(one.late, found.studio.currency)
    who = f"{one.booking.client.shown_name} owes {amount} for {one.booking.shown_title}"
    if one.since is None:
        raise ValueError(f"Booking {one.booking.pk} has money past its day since no day.")
    late = found.late.get(one.booking.pk, 0)
    if not late:
        return f"{who}, by {day(one.since)}."
    past = "" if late == one.late else f", {show(late, found.studio.currency)} of it past its day"
    return f"{who}, since {day(one.since)}{past}."


def _counted(count: int, word: str) -> str:
    return f"{count:,} {word}{'' if count == 1 else 's'}"


def as_json(found: Digest) -> dict[str, Any]:
    """The same for a script. Days are written 2026-06-01, amounts in minor units of `currency`."""
    week = found.week
    return {
        "today": found.today.isoformat(),
        "until": found.until.isoformat(),
        "currency": found.studio.currency,
        "short": [
            {
                "item": row.item.pk,
                "label": row.item.label,
                "short_on": _iso(row.short_on),
                "short_by": row.cover.short_by,
                "order_by": _iso(row.order_by),
                "sentence": row.sentence,
            }
            for row in week.board.short_rows
        ],
        "kit": [{"kit": clash.kit.pk, "from": _iso(clash.first), "sentence": clash.sentence} for clash in week.clashes],
        "full": [{"day": _iso(clash.day), "sentence": clash.sentence} for clash in found.full],
        "cannot_go": [
            {"person": one.person, "day": _iso(one.day), "bookings": list(one.bookings), "sentence": one.sentence}
            for one in found.cannot_go
        ],
        "questions": [
            {"question": one.pk, "booking": one.booking_id, "text": one.text, "asked_at": one.asked_at.isoformat()}
            for one in found.questions
        ],
        "orders": [
            {
                "order": one.order.pk,
                "supplier": one.order.supplier.name,
                "due_on": _iso(one.expected_on),
                "to_come": one.to_come,
                "late": one.is_late,
            }
            for one in found.orders
        ],
        "to_place": [
            {"order": one.order.pk, "supplier": one.order.supplier.name, "lines": one.lines} for one in found.to_place
        ],
        "prep": [
            {
                "day": _iso(one.day),
                "minutes": one.minutes,
                "jobs": [{"booking": job.booking.pk, "minutes": job.minutes} for job in one.jobs],
            }
            for one in found.prep
        ],
        "coming": [
            {
                "booking": up.booking.pk,
                "title": up.booking.shown_title,
                "event_on": _iso(up.booking.event_on),
                "prep_on": _iso(up.booking.needed_on),
                "short": up.short,
            }
            for up in week.coming
        ],
        "over": [{"booking": one.booking.pk, "sentence": one.words} for one in week.over],
        "money": [
            {
                "booking": one.booking.pk,
                "client": one.booking.client.shown_name,
                "due": one.late,
                "late": found.late.get(one.booking.pk, 0),
                "since": _iso(one.since),
            }
            for one in found.due
        ],
        "waiting": [
            {
                "booking": one.booking.pk,
                "quote": one.quote and one.quote.number,
                "title": one.title,
                "note": one.note,
                "word": one.word,
            }
            for one in week.waiting
        ],
    }


def _iso(value: date | None) -> str | None:
    return None if value is None else value.isoformat()
