"""Clients: who they are, what they agreed to, and two who are one."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from django.db import transaction

from bookings.models import Booking, Client, ClientMerge, ConsentEntry
from bookings.queries.clients import country, digest_of_clients
from bookings.queries.erasing import rows_naming
from bookings.queries.kit import kit_days
from bookings.reaching import mail_key, name_key, phone_key
from stock import actions as stock
from studio.models import User

KEPT_APART = ("name", "phone", "email", "found_us")
"""What a client has one of: of two who become one, the owner says which is kept."""


class ClientIsGone(Exception):
    """There is no such client any more: they asked to be erased."""

    def __init__(self, client: int) -> None:
        super().__init__(f"Client {client} was erased at their own request: nothing new can be written down for them.")


class MergeRefused(Exception):
    """These two cannot become one; the message is a sentence."""


def with_keys(given: Mapping[str, Any]) -> dict[str, Any]:
    """The fields, and what the name, the number and the address among them are compared by."""
    keys: dict[str, Any] = {}
    if "name" in given:
        keys["name_key"] = name_key(given["name"])
    if "phone" in given:
        keys["phone_key"] = phone_key(given["phone"], country())
    if "email" in given:
        keys["email_key"] = mail_key(given["email"])
    return {**given, **keys}


def client_now(client: int) -> Client:
    """The client, held; where they became another meanwhile, that one. Raises ClientIsGone."""
    merges = 0
    while (found := Client.objects.select_for_update().filter(pk=client).first()) is None:
        merge = ClientMerge.objects.filter(gone=client).first()
        merges += 1
        if merge is None or merges > 50:
            raise ClientIsGone(client)
        client = merge.kept_id
    if found.erased_at is not None:
        raise ClientIsGone(client)
    return found


@transaction.atomic
def add_client(*, given: Mapping[str, Any], by: User, at: datetime) -> Client:
    """Somebody new, without a job yet."""
    return Client.objects.create(**with_keys(given))


@transaction.atomic
def edit_client(*, client: Client, given: Mapping[str, Any], by: User, at: datetime) -> Client:
    """Change what is known of a client; what the shelf holds for jobs called after them is called so too."""
    found = client_now(client.pk)
    _write(found, with_keys(given))
    _call_again(found, by=by, at=at)
    return found


def add_what_is_new(client: Client, given: Mapping[str, str], *, said: str) -> None:
    """Fill what was not known of a client; what differs from what was is added to their notes, after `said`."""
    keys = with_keys(given)
    changes: dict[str, Any] = {}
    others: list[str] = []
    for field, value in given.items():
        key = f"{field}_key"
        if not value or keys[key] == getattr(client, key):
            continue
        if getattr(client, field):
            others.append(f"{field} {value}")
        else:
            changes |= {field: value, key: keys[key]}
    if others:
        notes = "\n".join(part for part in (client.notes, f"{said}: {', '.join(others)}") if part)
        if len(notes) <= _longest("notes"):
            changes["notes"] = notes
    _write(client, changes)


@transaction.atomic
def note_consent(
    *, client: Client, what: str, is_given: bool, how: str, on: date, by: User, at: datetime
) -> ConsentEntry:
    """Write down that a client said yes to something, or took it back. Raises ClientIsGone."""
    found = client_now(client.pk)
    return ConsentEntry.objects.create(client=found, what=what, is_given=is_given, how=how, on=on, by=by, at=at)


@transaction.atomic
def compare_phones_again() -> None:
    """Reckon anew what numbers are compared by, once the studio is in another country."""
    here = country()
    clients = list(Client.objects.exclude(phone="").select_for_update().order_by("pk"))
    for client in clients:
        client.phone_key = phone_key(client.phone, here)
    Client.objects.bulk_update(clients, ["phone_key"], batch_size=500)


@transaction.atomic
def merge_clients(*, kept: int, gone: int, taken: frozenset[str], seen: str, by: User, at: datetime) -> Client:
    """Make two clients one: everything of `gone` becomes `kept`’s, and `gone` is no more.

    `taken` are the fields of KEPT_APART whose value is the one that is gone’s; the other value goes to the notes, so
    that nothing is lost. Allergies and notes of both are kept. `seen` is `digest_of_clients` as the page showed them.
    Twice is once. Raises MergeRefused.
    """
    if kept == gone:
        raise MergeRefused("A client cannot be merged with themselves.")
    # As everywhere, jobs are held before their clients.
    list(Booking.objects.select_for_update().filter(client__in=[kept, gone]).order_by("pk"))
    held = {
        client.pk: client for client in Client.objects.select_for_update().filter(pk__in=[kept, gone]).order_by("pk")
    }
    if gone not in held:
        return _merged_before(kept, gone)
    if kept not in held:
        raise MergeRefused(f"Client {kept} is not there any more: look again.")
    one, other = held[kept], held[gone]
    if one.erased_at is not None or other.erased_at is not None:
        raise MergeRefused("One of them was erased: there is nothing to merge.")
    if digest_of_clients(one, other) != seen:
        raise MergeRefused("One of them was changed since you opened this. Look again, then merge.")
    together = put_together(one, other, taken)
    moved = _move_everything(other, one)
    other.delete()
    _write(one, with_keys(together))
    ClientMerge.objects.create(kept=one, gone=gone, taken=sorted(taken), moved=moved, at=at, by=by)
    _call_again(one, by=by, at=at)
    return one


def says_the_same(one: Client, other: Client, field: str) -> bool:
    """Whether a field of both means the same, however it is spelt."""
    key = f"{field}_key" if hasattr(one, f"{field}_key") else field
    return bool(getattr(one, key) == getattr(other, key))


def put_together(one: Client, other: Client, taken: frozenset[str]) -> dict[str, Any]:
    """The fields of two clients who become one. Raises MergeRefused where both together do not fit."""
    fields: dict[str, Any] = {}
    left: list[str] = []
    for name in KEPT_APART:
        mine, theirs = getattr(one, name), getattr(other, name)
        chosen, dropped = (theirs, mine) if name in taken or not mine else (mine, theirs)
        fields[name] = chosen
        if dropped and not says_the_same(one, other, name):
            left.append(f"{Client._meta.get_field(name).verbose_name} {dropped}")  # type: ignore[union-attr]
    fields["latex_allergy"] = one.latex_allergy or other.latex_allergy
    fields["allergies"] = "; ".join(dict.fromkeys(filter(None, (one.allergies, other.allergies))))
    notes = [one.notes, other.notes, f"Before they were merged, also: {', '.join(left)}." if left else ""]
    fields["notes"] = "\n\n".join(filter(None, notes))
    for name in ("notes", "allergies"):
        if len(fields[name]) > _longest(name):
            raise MergeRefused(
                f"The {name} of both together are {len(fields[name]):,} signs long and at most {_longest(name):,} fit: "
                "shorten one of them first."
            )
    return fields


def _longest(field: str) -> int:
    limit = Client._meta.get_field(field).max_length  # type: ignore[union-attr]
    assert limit is not None
    return limit


def _write(client: Client, fields: Mapping[str, Any]) -> None:
    for name, value in fields.items():
        setattr(client, name, value)
    if fields:
        client.save(update_fields=list(fields))


def _merged_before(kept: int, gone: int) -> Client:
    """The answer to a merge that was done: the same again, or who they became."""
    merge = ClientMerge.objects.filter(gone=gone).select_related("kept").first()
    if merge is None:
        raise MergeRefused(f"Client {gone} is not there any more: look again.")
    if merge.kept_id != kept:
        raise MergeRefused(f"They were merged into {merge.kept} (client {merge.kept_id}) already.")
    return merge.kept


def _move_everything(gone: Client, kept: Client) -> dict[str, int]:
    """Every row that names one client names the other; how many of each sort."""
    moved = {}
    for relation in rows_naming(Client):
        rows = relation.related_model._base_manager.filter(**{relation.field.name: gone})
        moved[relation.related_model._meta.model_name or ""] = rows.update(**{relation.field.name: kept})
    return {name: count for name, count in moved.items() if count}


def _call_again(client: Client, *, by: User, at: datetime) -> None:
    """What is held for jobs without a title of their own carries the client's name as it is now."""
    for booking in client.bookings.filter(title="", stage__in=["enquiry", "quoted", "booked"]).order_by("pk"):
        booking.client = client
        name, days = booking.shown_title, kit_days(booking)
        stock.move(booking=booking.pk, booking_name=name, by=by, at=at)
        stock.move_kit(booking=booking.pk, booking_name=name, before=days, after=days, by=by, at=at)
