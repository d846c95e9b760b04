"""One result per form, however often it is sent."""

import sqlite3
import threading
import uuid
from collections import Counter
from contextlib import closing

import pytest
from django.urls import reverse

from studio.models import Submission, User
from tests.live import PASSWORD, running


def typed(**changes: str) -> dict[str, str]:
    """Somebody to add, on a form of its own."""
    return {
        "form_key": str(uuid.uuid4()),
        "name": "Bo",
        "role": "crew",
        "username": "bo",
        "password": PASSWORD,
        "password_again": PASSWORD,
    } | changes


def test_sending_a_form_twice_makes_one_row_and_leads_to_the_same_answer(owner_client):
    form = typed()
    answers = [owner_client.post(reverse("settings-person-new"), form) for _ in range(2)]

    assert [answer.status_code for answer in answers] == [302, 302]
    assert answers[0].headers["Location"] == answers[1].headers["Location"] == reverse("settings-people")
    assert User.objects.filter(username="bo").count() == 1
    assert Submission.objects.count() == 1


def test_another_form_under_a_used_key_is_refused_and_nothing_is_written(owner_client):
    form = typed()
    owner_client.post(reverse("settings-person-new"), form)
    answer = owner_client.post(reverse("settings-person-new"), form | {"username": "bodil"})

    assert answer.status_code == 422
    assert "This form has been sent already" in answer.content.decode()
    assert not User.objects.filter(username="bodil").exists()


def test_a_key_used_on_one_page_opens_no_other(owner_client, crew):
    key = {"form_key": str(uuid.uuid4())}
    owner_client.post(reverse("settings-person-close", args=[crew.pk]), key)
    answer = owner_client.post(reverse("settings-person-open", args=[crew.pk]), key)

    assert answer.status_code == 422
    crew.refresh_from_db()
    assert not crew.is_active


@pytest.mark.parametrize("key", [pytest.param({}, id="no-key"), pytest.param({"form_key": "x"}, id="a-mangled-key")])
def test_a_form_without_its_key_is_refused_and_nothing_is_written(owner_client, key):
    form = typed()
    del form["form_key"]
    answer = owner_client.post(reverse("settings-person-new"), form | key)

    assert answer.status_code == 400
    assert "came without its key" in answer.content.decode()
    assert not User.objects.filter(username="bo").exists()


def test_a_form_that_was_refused_can_be_mended_and_sent_again(owner_client):
    form = typed(username="ana")
    refused = owner_client.post(reverse("settings-person-new"), form)
    mended = owner_client.post(reverse("settings-person-new"), form | {"username": "bo"})

    assert (refused.status_code, mended.status_code) == (422, 302)
    assert f'name="form_key" value="{form["form_key"]}"' in refused.content.decode()
    assert User.objects.filter(username="bo").count() == 1


def test_every_form_shown_has_a_key_of_its_own(owner_client):
    pages = [owner_client.get(reverse("settings-person-new")).content.decode() for _ in range(2)]
    keys = [page.split('name="form_key" value="')[1].split('"')[0] for page in pages]

    assert len({uuid.UUID(key) for key in keys}) == 2


def test_sixteen_of_the_same_form_at_once_make_exactly_one_row(tmp_path, migrated):
    with running(tmp_path, migrated) as server:
        owner = server.visitor()
        owner.set_up()
        form = owner.fill_in(
            "/settings/people/new/", {name: text for name, text in typed().items() if name != "form_key"}
        )
        barrier = threading.Barrier(16)
        answers: list[tuple[int, str]] = []

        def send() -> None:
            barrier.wait()
            answer = owner.ask("/settings/people/new/", form)
            answers.append((answer.status, answer.headers["Location"]))

        threads = [threading.Thread(target=send) for _ in range(16)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()

    assert Counter(answers) == {(302, "/settings/people/"): 16}
    with closing(sqlite3.connect(server.folder / "garlandry.sqlite3")) as kept:
        assert kept.execute("SELECT count(*) FROM studio_user WHERE username = 'bo'").fetchone() == (1,)
        key = uuid.UUID(form["form_key"]).hex
        assert kept.execute("SELECT count(*) FROM studio_submission WHERE key = ?", [key]).fetchone() == (1,)
