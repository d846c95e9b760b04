"""One form sent many times at once acts once, whatever it does."""

import uuid
from collections import Counter

from django.test import Client as Browser
from django.urls import reverse

from stock.models import Movement
from studio import people
from studio.models import Submission, User
from tests.factories import NOON, UserFactory

TIMES = 64


def sender(user: User, address: str, form: dict[str, str]):
    """Sends the form once, from a browser of its own."""
    browser = Browser()
    browser.force_login(user)

    def send() -> tuple[int, str]:
        answer = browser.post(address, form)
        return answer.status_code, answer.headers.get("Location", "")

    return send


def test_a_delivery_typed_once_and_sent_sixty_four_times_comes_once(new_item, by, together):
    item = new_item()
    form = {"form_key": str(uuid.uuid4()), "kind": "received", "quantity": "25", "why": ""}
    sends = [sender(by, reverse("stock:item-move", args=[item.pk]), form) for _ in range(TIMES)]
    answers = together(sends)

    assert Counter(answers) == {(302, reverse("stock:item", args=[item.pk])): TIMES}
    assert list(Movement.objects.filter(item=item).values_list("quantity", flat=True)) == [25]
    assert Submission.objects.filter(key=form["form_key"]).count() == 1


def test_of_two_forms_under_one_key_sent_at_once_one_is_refused(new_item, by, together):
    item, key = new_item(), str(uuid.uuid4())
    address = reverse("stock:item-move", args=[item.pk])
    forms = [{"form_key": key, "kind": "received", "quantity": quantity, "why": ""} for quantity in ("10", "20")]
    answers = together([sender(by, address, form) for form in forms * 8])

    assert Counter(status for status, _ in answers) == {302: 8, 422: 8}
    assert Movement.objects.filter(item=item).count() == 1


def test_sixty_four_different_forms_at_once_all_count(new_item, by, together):
    item = new_item()
    address = reverse("stock:item-move", args=[item.pk])
    forms = [{"form_key": str(uuid.uuid4()), "kind": "received", "quantity": "1", "why": ""} for _ in range(TIMES)]
    answers = together([sender(by, address, form) for form in forms])

    assert Counter(status for status, _ in answers) == {302: TIMES}
    assert Movement.objects.filter(item=item).count() == TIMES


def test_two_owners_who_close_each_others_accounts_at_once_do_not_lock_the_studio(shared, together):
    for _ in range(6):
        User.objects.update(is_active=False)
        one, other = UserFactory(), UserFactory()
        answers = together(
            [
                lambda one=one, other=other: people.close_account(person=one, by=other, at=NOON),
                lambda one=one, other=other: people.close_account(person=other, by=one, at=NOON),
            ]
        )

        assert sorted(type(answer).__name__ for answer in answers) == ["LastOwner", "NoneType"]
        assert User.objects.filter(role="owner", is_active=True).count() == 1
