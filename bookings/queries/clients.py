"""The list of clients, who is known already, and who is written down twice."""

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from django.db.models import Count, Exists, IntegerField, OuterRef, Q, QuerySet, Subquery
from django.db.models.functions import Coalesce

from bookings.models import Booking, Client, ClientQuerySet
from bookings.queries.money import owed_by_client, owed_of
from bookings.reaching import country_of, digits_of, mail_key, name_key, phone_key
from studio.models import Studio

CURRENT = ("enquiry", "quoted", "booked")
CALLED_OFF = ("lost", "cancelled")
MOST_KNOWN = 5
MOST_TWICE = 50
FEWEST_REMEMBERED = 3
"""Digits of a number somebody remembers: fewer fit everybody."""

WHICH: Mapping[str, str] = {"all": "Everybody", "coming": "With a job under way", "owing": "Who owe"}


@dataclass(frozen=True, slots=True)
class ClientRow:
    """A client in the list. `owed` is None for crew."""

    client: Client
    jobs: int
    last: Booking | None
    next: Booking | None
    owed: int | None

    @property
    def job_words(self) -> str:
        """“1 job”, “3 jobs”."""
        return f"{self.jobs} job{'' if self.jobs == 1 else 's'}"

    @property
    def reached_at(self) -> str:
        """Their number or their address, beside a name; nothing where it stands in the name's place."""
        return (self.client.phone or self.client.email) if self.client.name else ""


@dataclass(frozen=True, slots=True)
class Known:
    """Somebody who is reached by what was typed."""

    client: Client
    jobs: int

    @property
    def words(self) -> str:
        """“Ines Varela, 2 jobs before”."""
        if not self.jobs:
            return f"{self.client.shown_name}, no job before"
        return f"{self.client.shown_name}, {self.jobs} job{'' if self.jobs == 1 else 's'} before"


@dataclass(frozen=True, slots=True)
class Twice:
    """Clients with the same number or address: the first is the one who was there first."""

    why: str
    clients: tuple[Client, ...]

    @property
    def first(self) -> Client:
        """Who was written down first."""
        return self.clients[0]

    @property
    def others(self) -> tuple[Client, ...]:
        """Who came after."""
        return self.clients[1:]


def country() -> str:
    """The two letters of the country a number without one is of; empty where nobody has said."""
    studio = Studio.objects.current()
    return country_of(phone=studio.phone, time_zone=studio.time_zone)


def digest_of_clients(*clients: Client) -> str:
    """A digest of everything known of them, to tell whether that has changed."""
    names = [field.attname for field in Client._meta.concrete_fields]
    said = [[str(getattr(client, name)) for name in names] for client in sorted(clients, key=lambda one: one.pk)]
    return hashlib.sha256(json.dumps(said).encode()).hexdigest()


def clients_list(which: str, search: str, *, today: date, shows_money: bool) -> ClientQuerySet:
    """Clients of one of WHICH whom `search` fits, by name. Without `shows_money` only those with a job under way:
    whose number crew may need."""
    found = Client.objects.filter(erased_at__isnull=True)
    if which == "coming" or not shows_money:
        found = found.filter(Exists(Booking.objects.filter(client=OuterRef("pk"), stage__in=CURRENT)))
    elif which == "owing":
        found = found.filter(pk__in=[owes.client.pk for owes in owed_by_client(today=today)])
    return _fitting(found, search).order_by("name_key", "pk")


def _count_of(jobs: QuerySet[Booking]) -> Coalesce:
    counted = jobs.order_by().values("client").annotate(count=Count("pk")).values("count")
    return Coalesce(Subquery(counted, output_field=IntegerField()), 0)


def _fitting(clients: ClientQuerySet, search: str) -> ClientQuerySet:
    """By parts of the name or the address, or by a number in any spelling, or its last digits."""
    if not search.strip():
        return clients
    words = Q()
    for word in name_key(search).split():
        words &= Q(name_key__contains=word) | Q(email_key__contains=word)
    digits = digits_of(search)
    if len(digits) < FEWEST_REMEMBERED or any(sign.isalpha() for sign in search):
        return clients.filter(words)
    number = Q(phone_key__contains=digits)
    # A nought dialled before a number is no part of it abroad.
    if len(bare := digits.lstrip("0")) >= FEWEST_REMEMBERED:
        number |= Q(phone_key__contains=bare)
    if whole := phone_key(search, country()):
        number |= Q(phone_key=whole)
    return clients.filter(words | number)


def rows_of(clients: Sequence[Client], *, today: date, shows_money: bool) -> list[ClientRow]:
    """One page of `clients_list`, with the jobs of each and what they owe."""
    by_key = {client.pk: client for client in clients}
    jobs: dict[int, list[Booking]] = {key: [] for key in by_key}
    for job in Booking.objects.filter(client__in=by_key).only("client_id", "title", "event_on", "stage"):
        job.client = by_key[job.client_id]
        jobs[job.client_id].append(job)
    owed = owed_of(by_key) if shows_money else None
    return [_row(client, jobs[client.pk], None if owed is None else owed[client.pk], today) for client in clients]


def _row(client: Client, jobs: Sequence[Booking], owed: int | None, today: date) -> ClientRow:
    dated = sorted(
        ((job.event_on, job.pk, job) for job in jobs if job.event_on and job.stage not in CALLED_OFF),
        key=lambda one: one[:2],
    )
    past = [job for day, _, job in dated if day < today]
    coming = [job for day, _, job in dated if day >= today]
    return ClientRow(client, len(jobs), past[-1] if past else None, coming[0] if coming else None, owed)


def known_again(*, phone: str, email: str) -> list[Known]:
    """Who is reached by that number or that address, those with most jobs first."""
    same = Client.objects.reached_by(phone_key=phone_key(phone, country()), email_key=mail_key(email))
    jobs = Booking.objects.filter(client=OuterRef("pk"))
    found = same.annotate(job_count=_count_of(jobs)).order_by("-job_count", "pk")[:MOST_KNOWN]
    return [Known(client, client.job_count) for client in found]


def is_anybody_twice() -> bool:
    """Whether any clients share a number or an address. One statement."""
    phones, mails = (
        Client.objects.exclude(**{key: ""}).order_by().values(key).annotate(count=Count("pk")).filter(count__gt=1)
        for key in ("phone_key", "email_key")
    )
    return phones.values_list("phone_key").union(mails.values_list("email_key"), all=True).exists()


_REACHED = (("phone_key", "the number"), ("email_key", "the address"))


def written_down_twice() -> list[Twice]:
    """Clients who share a number or an address."""
    by_way = []
    for key, what in _REACHED:
        named = Client.objects.exclude(**{key: ""}).order_by().values(key)
        shared = named.annotate(count=Count("pk")).filter(count__gt=1).order_by(key)
        values = list(shared.values_list(key, flat=True)[:MOST_TWICE])
        grouped: dict[str, list[Client]] = {}
        for one in Client.objects.filter(**{f"{key}__in": values}).order_by(key, "pk"):
            grouped.setdefault(getattr(one, key), []).append(one)
        by_way += [(key, what, clients) for clients in grouped.values()]
    return _each_once(by_way)


def written_down_again(client: Client) -> list[Twice]:
    """Those who share a number or an address with a client. One statement."""
    same = list(Client.objects.reached_by(phone_key=client.phone_key, email_key=client.email_key).order_by("pk"))
    own = [(key, what, getattr(client, key)) for key, what in _REACHED if getattr(client, key)]
    by_way = [(key, what, [one for one in same if getattr(one, key) == value]) for key, what, value in own]
    return _each_once(one for one in by_way if len(one[2]) > 1)


def _each_once(by_way: Iterable[tuple[str, str, Sequence[Client]]]) -> list[Twice]:
    """Those who share something, each group once: who share a number and an address share a number."""
    found: dict[tuple[int, ...], Twice] = {}
    for key, what, clients in by_way:
        said = f"{what} {getattr(clients[0], key.removesuffix('_key'))}"
        found.setdefault(tuple(one.pk for one in clients), Twice(said, tuple(clients)))
    return list(found.values())
