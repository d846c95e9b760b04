"""Several at one client: a merge while a booking is made, two merges, an erasing while somebody asks again."""

from collections.abc import Callable

import pytest
from django.db.models import QuerySet

from bookings import actions
from bookings.actions.clients import with_keys
from bookings.models import Booking, Client, ClientMerge
from bookings.queries.clients import digest_of_clients
from tests.factories import NOON, TODAY, ClientFactory
from tests.races.conftest import OFTEN


@pytest.fixture
def new_client(shared) -> Callable[[str], Client]:
    """Writes down another client."""

    def make(name: str) -> Client:
        return ClientFactory(**with_keys({"name": name, "phone": "", "email": ""}))

    return make


def merging(kept: Client, gone: Client, by) -> Callable[[], Client]:
    seen = digest_of_clients(kept, gone)
    return lambda: actions.merge_clients(kept=kept.pk, gone=gone.pk, taken=frozenset(), seen=seen, by=by, at=NOON)


def asking(client: Client, by) -> Callable[[], Booking]:
    typed = {"name": client.name, "phone": "", "email": ""}
    return lambda: actions.log_enquiry(client=typed, job={}, known=client.pk, by=by, at=NOON)


def check_every_booking_is_of_who_was_kept(new_client, by, together) -> None:
    kept, gone = new_client("Ines"), new_client("Ines Varela")
    answers = together(
        [asking(gone, by), asking(gone, by), merging(kept, gone, by), asking(gone, by), asking(kept, by)]
    )

    assert [answer for answer in answers if isinstance(answer, Exception)] == []
    assert Booking.objects.filter(client=kept).count() == 4
    assert not Client.objects.filter(pk=gone.pk).exists()


def test_a_booking_made_while_its_client_is_merged_is_of_who_was_kept(new_client, by, together):
    for _ in range(5):
        check_every_booking_is_of_who_was_kept(new_client, by, together)


def test_the_same_merge_pressed_at_once_is_done_once(new_client, by, together):
    kept, gone = new_client("Ines"), new_client("Ines Varela")
    answers = together([merging(kept, gone, by)] * 6)

    assert answers == [kept] * 6
    assert ClientMerge.objects.filter(gone=gone.pk).count() == 1


def test_of_two_merged_into_each_other_at_once_one_stays(new_client, by, together):
    for _ in range(3):
        one, other = new_client("Ines"), new_client("Ines Varela")
        answers = together([merging(one, other, by), merging(other, one, by)])

        assert sum(isinstance(answer, Client) for answer in answers) == 1, answers
        assert sum(isinstance(answer, actions.MergeRefused) for answer in answers) == 1, answers
        assert Client.objects.filter(pk__in=[one.pk, other.pk]).count() == 1


def test_whoever_asks_while_they_are_erased_is_kept_or_told(new_client, by, together):
    for _ in range(4):
        ines = new_client("Ines")
        erasing = lambda ines=ines: actions.erase_client(client=ines.pk, today=TODAY, by=by, at=NOON)  # noqa: E731
        erased, asked = together([erasing, asking(ines, by)])

        if isinstance(asked, Booking):
            assert isinstance(erased, actions.EraseRefused)
            assert Client.objects.get(pk=ines.pk).name == "Ines"
        else:
            assert isinstance(asked, actions.ClientIsGone), asked
            assert Client.objects.get(pk=ines.pk).erased_at == NOON


# Without the lock the check finds the fault it is there for.


@pytest.mark.postgresql
def test_without_the_lock_a_booking_is_lost_between_two_clients(new_client, by, together, monkeypatch):
    monkeypatch.setattr(QuerySet, "select_for_update", lambda self, **how: self.all())
    with pytest.raises(AssertionError):
        for _ in range(OFTEN):
            check_every_booking_is_of_who_was_kept(new_client, by, together)
