"""What goes along besides balloons: by the studio's rules, ticked with a thumb, kit out with it."""

import datetime as dt
import re
from decimal import Decimal
from uuid import uuid4

import pytest
from django.urls import reverse

from bookings.actions import bringing
from bookings.actions import kit as kit_actions
from bookings.actions.bringing import BringRefused
from bookings.bringing import ABOVE, HELIUM, HUNG, INDOORS, KIND, OUTDOORS, USUAL, Going, Rule, goes_along, things_for
from bookings.models import BringingRules, BringTick
from bookings.queries.bringing import bring_list
from stock.actions import KitRefusal
from stock.models import KitPromise
from tests.factories import NOON, TODAY, BookingFactory, ItemFactory, KitFactory, ReservationFactory
from tests.opened import send_opened

PLAIN = Going(frozenset({"garland"}), outdoors=False, indoors=True, hangs=False, hang_height_mm=None, helium=False)


def going(**other):
    return Going(**{name: getattr(PLAIN, name) for name in PLAIN.__slots__} | other)


@pytest.mark.parametrize(
    ("rule", "job", "goes"),
    [
        pytest.param(Rule("Pump"), PLAIN, True, id="every job"),
        pytest.param(Rule("Stakes", OUTDOORS), PLAIN, False, id="outdoors, and it is not"),
        pytest.param(Rule("Stakes", OUTDOORS), going(outdoors=True), True, id="outdoors"),
        pytest.param(Rule("Felt", INDOORS), PLAIN, True, id="indoors"),
        pytest.param(Rule("Wipes", HUNG), going(hangs=True), True, id="hung"),
        pytest.param(Rule("Regulator", HELIUM), going(helium=True), True, id="helium"),
        pytest.param(Rule("Frame", f"{KIND}garland"), PLAIN, True, id="its kind"),
        pytest.param(Rule("Frame", f"{KIND}wall"), PLAIN, False, id="another kind"),
        pytest.param(Rule("Ladder", ABOVE, Decimal(1829)), PLAIN, False, id="no height known"),
        pytest.param(
            Rule("Ladder", ABOVE, Decimal(1829)), going(hang_height_mm=Decimal(1829)), False, id="just so high"
        ),
        pytest.param(Rule("Ladder", ABOVE, Decimal(1829)), going(hang_height_mm=Decimal(1830)), True, id="higher"),
        pytest.param(Rule("Thing", "on Sundays"), PLAIN, False, id="a rule nobody knows"),
    ],
)
def test_a_rule_says_whether_its_thing_goes_along(rule, job, goes):
    assert goes_along(rule, job) is goes


def test_a_thing_two_rules_name_goes_along_once():
    rules = [Rule("Ladder", OUTDOORS), Rule("ladder"), Rule("Tape")]
    assert things_for(rules, going(outdoors=True)) == ["Ladder", "Tape"]


def test_a_rule_is_read_back_as_it_was_kept():
    assert [Rule.from_json(rule.to_json()) for rule in USUAL] == list(USUAL)


@pytest.fixture
def gala(db):
    return BookingFactory(
        title="Gala", stage="booked", needed_on=TODAY, event_on=TODAY + dt.timedelta(days=1), hang_height_mm=2500
    )


@pytest.fixture
def frame(gala, owner):
    """A frame promised to the gala."""
    kit = KitFactory(name="Arch frame", owned=1)
    kit_actions.promise_kit(
        booking=gala, kit=kit, quantity=1, out_on=TODAY, back_on=TODAY + dt.timedelta(days=2), by=owner, at=NOON
    )
    return kit


def only(*rules):
    BringingRules.objects.update_or_create(pk=1, defaults={"rules": [rule.to_json() for rule in rules]})


def names(booking):
    return [line.name for line in bring_list(booking).lines]


def test_before_anybody_wrote_a_list_the_usual_things_go_along(gala):
    found = names(gala)
    assert {"Pump", "Extension lead", "Ladder", "Scraper", "Tape"} <= set(found)
    assert "Ground stakes" not in found
    assert not BringingRules.objects.exists()


def test_kit_comes_first_and_what_is_promised_by_name_or_sort_is_listed_once(gala, frame):
    only(Rule("Pump"), Rule("Arch frame"), Rule("frame"))
    assert names(gala) == ["Arch frame", "Pump"]


def test_two_people_see_one_tick(gala, owner, crew):
    only(Rule("Pump"))
    first = bringing.tick_thing(booking=gala, key="thing-Pump", by=crew, at=NOON)
    assert bringing.tick_thing(booking=gala, key="thing-Pump", by=owner, at=NOON) == first
    assert [line.tick and line.tick.by for line in bring_list(gala).lines] == [crew]


def test_what_is_missing_is_said_at_the_end(gala, owner):
    only(*(Rule(f"Thing {n}") for n in range(9)))
    bringing.tick_thing(booking=gala, key="thing-Thing 0", by=owner, at=NOON)
    assert bring_list(gala).said_missing == (
        "Not in the van yet: Thing 1, Thing 2, Thing 3, Thing 4, Thing 5, Thing 6 and 2 more."
    )


def test_what_is_on_no_list_cannot_be_ticked(gala, owner):
    with pytest.raises(BringRefused, match="not on the list any more"):
        bringing.tick_thing(booking=gala, key="thing-Anvil", by=owner, at=NOON)
    assert bring_list(BookingFactory(stage="enquiry")).lines == ()


def test_kit_that_is_ticked_goes_out_with_the_job(gala, frame, owner):
    promise = KitPromise.objects.get()
    bringing.tick_thing(booking=gala, key=f"kit-{promise.pk}", by=owner, at=NOON)
    assert bring_list(gala).kit_waits
    assert bringing.load_ticked_kit(booking=gala, by=owner, at=NOON) == [promise]
    promise.refresh_from_db()
    assert (promise.state, bring_list(gala).kit_waits, bring_list(gala).lines[0].is_ticked) == ("out", False, True)


def test_kit_that_is_not_at_home_cannot_go_out(gala, frame, owner):
    other = BookingFactory(stage="booked", needed_on=TODAY, event_on=TODAY)
    kit_actions.promise_kit(booking=other, kit=frame, quantity=1, out_on=TODAY, back_on=TODAY, by=owner, at=NOON)
    kit_actions.load_kit(booking=other, by=owner, at=NOON)
    bringing.tick_thing(booking=gala, key=f"kit-{KitPromise.objects.get(booking=gala.pk).pk}", by=owner, at=NOON)
    with pytest.raises(KitRefusal, match="has 0 at home"):
        bringing.load_ticked_kit(booking=gala, by=owner, at=NOON)


def text_of(response):
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def post(browser, booking, **fields):
    address = reverse("bookings:pull-along", args=[booking.pk])
    return browser.post(address, {"form_key": str(uuid4())} | fields, follow=True)


def test_crew_tick_and_untick_on_the_pull_list(crew_client, gala):
    only(Rule("Pump"), Rule("Tape"))
    page = text_of(post(crew_client, gala, key="thing-Pump"))
    assert "1 of 2 things in the van. Not in the van yet: Tape." in page
    assert "0 of 2 things in the van." in text_of(post(crew_client, gala, key="thing-Pump", undo="yes"))


def test_a_tick_answers_htmx_with_the_things_and_the_sum_alone(crew_client, gala):
    only(Rule("Pump"))
    address = reverse("bookings:pull-along", args=[gala.pk])
    headers = {"HX-Request": "true"}
    answer = crew_client.post(address, {"form_key": str(uuid4()), "key": "thing-Pump"}, headers=headers)
    assert answer.status_code == 303
    part = crew_client.get(answer.url.split("#")[0], headers=headers).content.decode()
    assert 'id="along"' in part and 'id="pull-sum"' in part and "<html" not in part


def test_the_page_is_told_nothing_while_nothing_changed(crew_client, gala, owner):
    only(Rule("Pump"))
    page = crew_client.get(reverse("bookings:pull-list", args=[gala.pk])).content.decode()
    (again,) = re.findall(r'<div id="pull"[^>]* hx-get="([^"]+)"', page)
    assert crew_client.get(again, headers={"HX-Request": "true"}).status_code == 204
    bringing.tick_thing(booking=gala, key="thing-Pump", by=owner, at=NOON)
    assert crew_client.get(again, headers={"HX-Request": "true"}).status_code == 200


def test_the_kit_goes_out_from_the_pull_list(crew_client, gala, frame, owner):
    only()
    post(crew_client, gala, key=f"kit-{KitPromise.objects.get().pk}")
    answer = crew_client.post(reverse("bookings:pull-issue", args=[gala.pk]), {"form_key": str(uuid4())}, follow=True)
    assert "1 kit out with the job." in text_of(answer)
    assert KitPromise.objects.get().state == "out"


def test_the_list_is_on_paper_too(crew_client, gala):
    answer = crew_client.get(reverse("bookings:pull-list-pdf", args=[gala.pk]))
    assert answer.content.startswith(b"%PDF")


def save(browser, *lines):
    sent = {"form_key": str(uuid4()), "lines": str(len(lines))}
    for number, (thing, when, above) in enumerate(lines):
        sent |= {f"thing_{number}": thing, f"when_{number}": when, f"above_{number}": above}
    return send_opened(browser, reverse("bookings:packing"), sent, follow=True)


def test_the_owner_writes_the_studios_own_list(owner_client, gala):
    save(owner_client, ("Lift", "above", "8 ft"), ("", "always", ""), ("Tea", "always", ""))
    assert BringingRules.objects.get().read() == [Rule("Lift", ABOVE, Decimal("2438.4")), Rule("Tea")]
    assert names(gala) == ["Lift", "Tea"]


def test_an_emptied_list_stays_empty(owner_client, gala):
    save(owner_client, ("", "always", ""))
    assert (BringingRules.objects.get().rules, names(gala)) == ([], [])


@pytest.mark.parametrize(
    ("line", "said"),
    [
        pytest.param(("Ladder", "above", ""), "Ladder needs the height it goes along above.", id="no height"),
        pytest.param(("Ladder", "above", "high"), "Higher than, line 1 “high” is not understood.", id="a word"),
        pytest.param(("Ladder", "above", "900 ft"), "Higher than, line 1 must be from 1 ft to 100 ft", id="too high"),
        pytest.param(("Pump", "on Sundays", ""), "Select a valid choice", id="a rule there is not"),
        pytest.param(("x" * 61, "always", ""), "at most 60 characters", id="too long a name"),
    ],
)
def test_a_line_that_makes_no_sense_is_refused_and_kept(owner_client, line, said):
    answer = save(owner_client, line)
    assert answer.status_code == 422
    assert said in text_of(answer)
    assert not BringingRules.objects.exists()
    if len(line[0]) < 60:
        assert f'value="{line[0]}"' in answer.content.decode()


def test_ticks_go_with_the_booking_and_stay_when_the_list_changes(gala, owner):
    only(Rule("Pump"))
    bringing.tick_thing(booking=gala, key="thing-Pump", by=owner, at=NOON)
    bringing.keep_bringing_rules(rules=[Rule("Tape")], by=owner, at=NOON)
    assert (names(gala), BringTick.objects.count()) == (["Tape"], 1)


def test_a_longer_list_asks_the_database_nothing_more(crew_client, gala, owner, django_assert_max_num_queries):
    only(Rule("Pump"))
    page = reverse("bookings:pull-list", args=[gala.pk])
    crew_client.get(page)
    with django_assert_max_num_queries(18) as few:
        crew_client.get(page)
    only(*(Rule(f"Thing {n}") for n in range(40)))
    for n in range(20):
        bringing.tick_thing(booking=gala, key=f"thing-Thing {n}", by=owner, at=NOON)
    with django_assert_max_num_queries(len(few)):
        assert text_of(crew_client.get(page)).count("Thing") >= 40


def test_what_the_shelf_gives_already_is_not_named_again(gala):
    hook = ItemFactory(sort="hook", colour=None, size=None, name="Hooks")
    ReservationFactory(item=hook, booking=gala.pk, quantity=4)
    only(Rule("Hooks", HUNG), Rule("Wipes", HUNG))
    assert names(gala) == ["Wipes"]
