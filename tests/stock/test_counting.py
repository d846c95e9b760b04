"""Counting the shelf: blind, kept while half finished, and written to the ledger once."""

import datetime as dt
import re
from uuid import uuid4

import pytest
from django.db import IntegrityError
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from stock import actions
from stock.models import CountLine, CountSheet, Item, Movement, ShelfRules
from stock.queries import on_hand, shelf_count
from stock.weighing import piece_weight, pieces_in
from tests.factories import NOON, ColourFactory, ItemFactory, MovementFactory, OfferFactory
from tests.opened import send_opened

pytestmark = pytest.mark.django_db

EXPECTED = 8641
"""A count nobody would choose: what the ledger says, and what a blind page must not."""
LATER = NOON + dt.timedelta(hours=2)


@pytest.fixture
def black(db) -> Item:
    item = ItemFactory(colour=ColourFactory(name="Black"), place="Rack 2")
    MovementFactory(item=item, quantity=EXPECTED)
    return item


def counted(item: Item, quantity: int, by, at=NOON) -> CountLine:
    return actions.write_count(item=item, counted=quantity, by=by, at=at)


def send(browser, name: str, *args: object, **fields: object):
    return browser.post(reverse(f"stock:{name}", args=args), {"form_key": str(uuid4())} | fields)


def page(browser, query: str = "") -> str:
    answer = browser.get(reverse("stock:count") + query)
    assert answer.status_code == 200
    return answer.content.decode()


def words(body: str) -> str:
    """The page as somebody reads it: no tags, single spaces."""
    return " ".join(re.sub(r"<[^>]+>", " ", body).split())


# Weighing.


@pytest.mark.parametrize(
    ("milligrams", "pieces", "one"),
    [
        pytest.param(64_800, 20, 3_240, id="twenty at 64.8 g"),
        pytest.param(10, 4, 3, id="a half goes up"),
        pytest.param(1, 10, 1, id="never nothing"),
    ],
)
def test_what_one_weighs_is_learnt_from_a_known_number(milligrams, pieces, one):
    assert piece_weight(milligrams, pieces) == one


@pytest.mark.parametrize(("milligrams", "pieces"), [(0, 10), (10, 0), (-5, 3)])
def test_nothing_is_learnt_from_nothing(milligrams, pieces):
    with pytest.raises(ValueError, match="A known number that weighs something is needed"):
        piece_weight(milligrams, pieces)


@given(pieces=st.integers(0, 5_000), one=st.integers(500, 40_000))
def test_a_bag_weighed_to_half_a_piece_is_counted_right(pieces, one):
    for off in (-(one - 1) // 2, 0, (one - 1) // 2):
        assert pieces_in(max(pieces * one + off, 0), one) == pieces


def test_a_weight_below_nothing_is_refused():
    with pytest.raises(ValueError, match="A weight and the weight of one are needed"):
        pieces_in(-1, 3_000)


# The sheet.


def test_what_is_counted_is_kept_on_a_sheet_and_moves_nothing(black, owner):
    counted(black, 40, owner)
    sheet = CountSheet.objects.get(is_open=True)
    line = sheet.lines.get()
    assert (line.item, line.counted, line.expected, line.difference) == (black, 40, EXPECTED, 40 - EXPECTED)
    assert on_hand([black.pk])[black.pk] == EXPECTED


def test_two_people_fill_in_one_sheet(black, owner, crew):
    counted(black, 40, owner)
    counted(ItemFactory(), 5, crew)
    assert CountSheet.objects.count() == 1
    with pytest.raises(IntegrityError):
        CountSheet.objects.create(started_at=NOON, started_by=crew)


def test_counting_again_replaces_the_first_count(black, owner):
    counted(black, 40, owner)
    actions.explain_count(item=black, why="a box went missing", by=owner, at=NOON)
    line = counted(black, 41, owner)
    assert (line.counted, line.why) == (41, "")
    assert CountLine.objects.count() == 1


@pytest.mark.parametrize("quantity", [-1, 1_000_001])
def test_a_count_nobody_can_have_made_is_refused(black, owner, quantity):
    with pytest.raises(actions.StockRefusal, match=f"Counted must be 0 to 1,000,000 \\(got {quantity:,}\\)"):
        counted(black, quantity, owner)


def test_finishing_writes_every_difference_and_only_once(black, owner):
    other = MovementFactory(quantity=10).item
    counted(black, EXPECTED - 3, owner)
    counted(other, 10, owner)
    sheet = CountSheet.objects.get()
    assert actions.finish_count(sheet=sheet, by=owner, at=LATER) == 2
    assert on_hand([black.pk, other.pk]) == {black.pk: EXPECTED - 3, other.pk: 10}
    written = Movement.objects.filter(at=LATER).order_by("item").values_list("kind", "quantity", "by")
    assert set(written) == {("counted", -3, owner.pk), ("counted", 0, owner.pk)}
    with pytest.raises(actions.CountRefusal, match="Ana has finished this count already"):
        actions.finish_count(sheet=sheet, by=owner, at=LATER)
    assert Movement.objects.filter(at=LATER).count() == 2


def test_what_moves_between_counting_and_finishing_is_not_undone(black, owner):
    counted(black, EXPECTED - 3, owner)
    actions.use(item=black, quantity=100, by=owner, at=NOON)
    actions.receive(item=black, quantity=50, by=owner, at=NOON)
    actions.finish_count(sheet=CountSheet.objects.get(), by=owner, at=LATER)
    assert on_hand([black.pk])[black.pk] == EXPECTED - 3 - 100 + 50


def test_an_item_counted_on_its_own_page_since_is_not_put_right_twice(black, owner):
    counted(black, EXPECTED - 3, owner)
    actions.count(item=black, counted=EXPECTED - 3, by=owner, at=NOON)
    with pytest.raises(actions.CountRefusal, match="Black 11-inch was counted on its own page since"):
        actions.finish_count(sheet=CountSheet.objects.get(), by=owner, at=LATER)
    assert on_hand([black.pk])[black.pk] == EXPECTED - 3


def test_more_gone_since_than_was_counted_is_refused(owner):
    item = MovementFactory(quantity=100).item
    counted(item, 20, owner)
    actions.explain_count(item=item, why="moths", by=owner, at=NOON)
    actions.use(item=item, quantity=90, by=owner, at=NOON)
    with pytest.raises(actions.CountRefusal, match="has only 10 left by now: count it again"):
        actions.finish_count(sheet=CountSheet.objects.get(), by=owner, at=LATER)


def test_a_large_difference_needs_a_reason(owner):
    item, small = MovementFactory(quantity=100).item, MovementFactory(quantity=100).item
    counted(item, 94, owner)
    counted(small, 95, owner)
    sheet = CountSheet.objects.get()
    assert [row.item for row in shelf_count().lacking_reasons] == [item]
    with pytest.raises(actions.CountRefusal, match="differs by 6; more than 5 needs a reason"):
        actions.finish_count(sheet=sheet, by=owner, at=LATER)
    assert not Movement.objects.filter(at=LATER).exists()
    actions.explain_count(item=item, why="popped in the heat", by=owner, at=NOON)
    actions.finish_count(sheet=sheet, by=owner, at=LATER)
    assert Movement.objects.get(item=item, at=LATER).why == "popped in the heat"


def test_how_far_a_count_may_differ_is_the_studios_rule(owner):
    actions.change_rules(latex_months=24, most_unexplained=50, by=owner, at=NOON)
    counted(MovementFactory(quantity=100).item, 50, owner)
    assert shelf_count().lacking_reasons == ()


def test_a_count_of_nothing_cannot_be_finished(owner):
    sheet = CountSheet.objects.create(started_at=NOON, started_by=owner)
    with pytest.raises(actions.CountRefusal, match="Nothing has been counted yet"):
        actions.finish_count(sheet=sheet, by=owner, at=LATER)


def test_a_count_thrown_away_writes_nothing(black, owner):
    counted(black, 1, owner)
    actions.drop_count(sheet=CountSheet.objects.get(), by=owner, at=LATER)
    assert not CountSheet.objects.exists()
    assert on_hand([black.pk])[black.pk] == EXPECTED


def test_an_item_taken_off_the_count_is_as_it_was(black, owner):
    counted(black, 1, owner)
    assert actions.take_off_count(item=black, by=owner, at=LATER) == 1
    assert shelf_count().counted == ()


# The pages.


def test_a_stranger_counts_nothing(client, black):
    for name, args in (("count", ()), ("count-review", ())):
        assert client.get(reverse(f"stock:{name}", args=args)).url.startswith(reverse("login"))
    assert send(client, "count-write", black.pk, counted="5").url.startswith(reverse("login"))
    assert not CountLine.objects.exists()


def test_crew_may_count_but_not_change_the_rules(crew_client, crew, black):
    OfferFactory(item=black, price_minor=791937)
    assert send(crew_client, "count-write", black.pk, counted="8639").status_code == 302
    assert "7,919" not in page(crew_client)
    sheet = CountSheet.objects.get()
    assert send(crew_client, "count-finish", sheet.pk).status_code == 302
    assert on_hand([black.pk])[black.pk] == 8639
    assert crew_client.get(reverse("stock:rules")).status_code == 403


def test_what_is_expected_is_hidden_until_something_is_counted(crew_client, black):
    before = page(crew_client)
    assert "Black 11-inch" in before
    assert "8641" not in before
    assert "8,641" not in before
    send(crew_client, "count-write", black.pk, counted="8639")
    assert "8,639 counted, 8,641 expected" in words(page(crew_client))


def test_a_half_finished_count_is_there_again(crew_client, black, owner):
    counted(black, 8639, owner)
    assert "1 of 1 counted" in words(page(crew_client))
    assert "8,639 counted" in words(page(crew_client))


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        pytest.param("-5", "Counted must be a whole number from 0 to 1000000 (got “-5”).", id="below nothing"),
        pytest.param("12.5", "Counted must be a whole number from 0 to 1000000 (got “12.5”).", id="half a balloon"),
        pytest.param("", "Counted is needed; nothing was typed. Type 0 where there are none.", id="nothing"),
        pytest.param("a lot", "Counted must be a whole number from 0 to 1000000 (got “a lot”).", id="words"),
    ],
)
def test_a_count_that_is_no_number_is_refused_with_what_was_typed(crew_client, black, typed, sentence):
    answer = send(crew_client, "count-write", black.pk, counted=typed)
    assert answer.status_code == 422
    assert sentence in words(answer.content.decode().replace("&#x27;", "'"))
    assert f'value="{typed}"' in answer.content.decode() or not typed
    assert not CountLine.objects.exists()


def test_htmx_gets_the_row_alone(crew_client, black):
    headers = {"HX-Request": "true"}
    sent = {"form_key": str(uuid4()), "counted": "8641"}
    answer = crew_client.post(reverse("stock:count-write", args=[black.pk]), sent, headers=headers)
    assert answer.status_code == 200
    body = answer.content.decode().strip()
    assert body.startswith(f'<li class="count-row" id="item-{black.pk}"')
    assert "as expected" in body


def test_a_row_just_counted_can_be_counted_again(crew_client, black):
    headers, address = {"HX-Request": "true"}, reverse("stock:count-write", args=[black.pk])
    first = str(uuid4())
    row = crew_client.post(address, {"form_key": first, "counted": "8641"}, headers=headers).content.decode()
    keys = set(re.findall(r'name="form_key" value="([^"]+)"', row))
    assert keys
    assert first not in keys
    again = crew_client.post(address, {"form_key": keys.pop(), "counted": "40"}, headers=headers)
    assert again.status_code == 200
    assert CountLine.objects.get().counted == 40


def test_a_count_sent_twice_is_kept_once(crew_client, black):
    sent = {"form_key": str(uuid4()), "counted": "40"}
    address = reverse("stock:count-write", args=[black.pk])
    assert crew_client.post(address, sent).url == crew_client.post(address, sent).url
    assert CountLine.objects.count() == 1


def test_a_bag_is_counted_by_its_weight(crew_client, black):
    assert send(crew_client, "count-weigh", black.pk, pieces="20", weight="64.8 g").status_code == 302
    assert Item.objects.get(pk=black.pk).piece_milligrams == 3240
    send(crew_client, "count-write", black.pk, counted="", weight="1.62 kg")
    line = CountLine.objects.get()
    assert (line.counted, line.weighed_milligrams) == (500, 1_620_000)


def test_counted_and_weighed_at_once_is_refused(crew_client, black):
    Item.objects.filter(pk=black.pk).update(piece_milligrams=3240)
    answer = send(crew_client, "count-write", black.pk, counted="5", weight="32 g")
    assert answer.status_code == 422
    assert "Count or weigh, not both (got 5 and a weight)." in words(answer.content.decode())


def test_weighing_nothing_teaches_nothing(crew_client, black):
    answer = send(crew_client, "count-weigh", black.pk, pieces="20", weight="0 g")
    assert answer.status_code == 422
    assert "Weight must be more than nothing (got 0 g)." in words(answer.content.decode())


def test_places_come_first_and_lead_to_what_lies_there(crew_client, black):
    ItemFactory(sort="hook", colour=None, size=None, name="Hooks")
    both = words(page(crew_client))
    assert "Rack 2 1 item" in both
    assert "No place yet 1 item" in both
    there = words(page(crew_client, "?place=Rack+2"))
    assert "Black 11-inch" in there
    assert "Hooks" not in there


def test_places_are_walked_in_the_order_of_their_numbers(crew_client):
    for place in ("Rack 10", "rack 9, box 2", "Rack 9", "2nd shelf", ""):
        ItemFactory(place=place)
    assert [place.name for place in shelf_count().places] == ["2nd shelf", "Rack 9", "rack 9, box 2", "Rack 10", ""]


def test_a_barcode_finds_its_item(crew_client, black):
    Item.objects.filter(pk=black.pk).update(barcode="4006381333931")
    ItemFactory(colour=ColourFactory(name="Sand"), place="Rack 3")
    found = words(page(crew_client, "?find=4006381333931"))
    assert "Black 11-inch" in found
    assert "Sand" not in found
    assert "No item has this barcode or name" in words(page(crew_client, "?find=123"))


def test_only_the_count_may_use_the_camera(crew_client, black):
    assert "camera=(self)" in crew_client.get(reverse("stock:count")).headers["Permissions-Policy"]
    assert "camera=()" in crew_client.get(reverse("stock:shelf")).headers["Permissions-Policy"]


def test_the_reason_is_asked_for_and_kept(crew_client, black):
    send(crew_client, "count-write", black.pk, counted="40")
    assert "−8,601, say why" in words(page(crew_client))
    send(crew_client, "count-why", black.pk, why="Flooded")
    assert CountLine.objects.get().why == "Flooded"
    assert "say why" not in words(page(crew_client))


def test_the_second_to_finish_is_told_plainly(crew_client, owner, black):
    counted(black, 8639, owner)
    sheet = CountSheet.objects.get()
    actions.finish_count(sheet=sheet, by=owner, at=LATER)
    answer = send(crew_client, "count-finish", sheet.pk)
    assert answer.status_code == 422
    assert "Ana has finished this count already. Nothing was written a second time." in words(answer.content.decode())


def test_the_review_says_what_differs(crew_client, black, owner):
    counted(black, 8639, owner)
    body = words(crew_client.get(reverse("stock:count-review")).content.decode())
    assert "1 of 1 items counted; 1 differs." in body


def test_the_rules_are_changed_by_the_owner(owner_client):
    typed = {"form_key": str(uuid4()), "latex_months": "18", "most_unexplained": "3"}
    assert send_opened(owner_client, reverse("stock:rules"), typed).status_code == 302
    rules = ShelfRules.objects.get()
    assert (rules.latex_months, rules.most_unexplained) == (18, 3)
    refused = send(owner_client, "rules", latex_months="241", most_unexplained="3")
    assert refused.status_code == 422
    assert "must be a whole number from 0 to 240 (got “241”)" in words(refused.content.decode())


@pytest.mark.parametrize("query", ["?place=Rack+1", ""])
def test_a_count_takes_as_many_queries_for_400_items_as_for_40(
    crew_client, owner, query, django_assert_max_num_queries
):
    taken = []
    for more in (40, 360):
        colours = [ColourFactory() for _ in range(more)]
        made = Item.objects.bulk_create([Item(colour=colour, size=11, place="Rack 1") for colour in colours])
        CountLine.objects.bulk_create(
            CountLine(
                sheet=CountSheet.objects.get_or_create(is_open=True, started_at=NOON, started_by=owner)[0],
                item=item,
                counted=1,
                expected=0,
                at=NOON,
                by=owner,
            )
            for item in made[::2]
        )
        with django_assert_max_num_queries(12) as asked:
            page(crew_client, query)
        taken.append(len(asked))
    assert taken[0] == taken[1]
