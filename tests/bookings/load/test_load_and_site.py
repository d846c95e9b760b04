"""The load and the place on a job's page: van, weights, points, ladder, wind."""

import re
from decimal import Decimal

import pytest
from django.urls import reverse

from estimating.kinds import CountedSpec, PackedSpec, packed
from estimating.layout import Balloon, Layout
from estimating.load import POUND
from estimating.materials import MaterialRules, materials
from estimating.wind import ballast, bases_of, drag, silhouette
from tests.bookings.load.conftest import FOOT, about, card, colour, keep
from tests.factories import BookingFactory, KitFactory

pytestmark = pytest.mark.django_db


def test_a_garland_weighs_and_hangs_from_points_that_hold(garland):
    told = about(card(garland()), "Garland")

    assert told.answer.state == "fine"
    assert "a hook holds 1 lb" in told.answer.sentence
    assert told.more.startswith("It weighs ")
    assert "balloons " in told.more and "line 2 oz" in told.more


def test_weak_hooks_are_told_of_first(garland):
    told = card(garland(), hook_grams=Decimal(20)).told

    assert (told[0].about, told[0].word, told[0].badge) == ("Garland", "stop", "short")
    assert "use stronger ones, or more of them" in told[0].answer.sentence


@pytest.mark.parametrize(
    ("van", "state", "said"),
    [
        pytest.param(250, "fine", "Inflated, it all goes in 1 van load.", id="a van"),
        pytest.param(
            15, "care", "Inflated, it all goes in 2 van loads. Inflating there saves the driving.", id="a car"
        ),
    ],
)
def test_the_van_drives_as_often_as_it_takes(garland, van, state, said):
    told = about(card(garland(), van_cubic_feet=Decimal(van)), "Van")
    assert (told.answer.state, told.answer.sentence) == (state, said)
    assert told.more.endswith(f"yours holds {van} ft³.")


@pytest.mark.parametrize(
    ("feet", "ladders", "state", "said"),
    [
        pytest.param(None, [], "care", "How high it hangs is not written down yet", id="no height"),
        pytest.param(9, [6], "fine", "take the ladder of 6 ft (1.83 m)", id="reaches"),
        pytest.param(13, [6], "stop", "takes a ladder of at least 9 ft (2.74 m)", id="does not reach"),
        pytest.param(30, [6], "stop", "it takes a lift", id="beyond ladders"),
    ],
)
def test_the_ladder_reaches_or_not(garland, feet, ladders, state, said):
    booking = garland(hang_height_mm=feet and FOOT * feet)
    for ladder in ladders:
        KitFactory(sort="ladder", height_mm=FOOT * ladder)
    told = about(card(booking), "Ladder")
    assert told.answer.state == state
    assert said in told.answer.sentence


@pytest.mark.parametrize(
    ("gusts", "state", "said"),
    [
        pytest.param(None, "care", "Look up the gusts forecast for the day: at 24 mph (38 km/h)", id="not known"),
        pytest.param("10", "fine", "Gusts of 10 mph (16 km/h) are 42 % of your limit", id="a breeze"),
        pytest.param("200", "stop", "Do not install: gusts of 200 mph", id="a hurricane"),
    ],
)
def test_outdoors_the_wind_decides(garland, gusts, state, said):
    told = about(card(garland(outdoors=True, gusts_mph=gusts and Decimal(gusts))), "Wind")
    assert told.answer.state == state
    assert said in told.answer.sentence


def test_indoors_no_wind_is_told_of(garland):
    told = card(garland(gusts_mph=Decimal(50))).told
    assert not [one for one in told if "ind" in one.about]


def test_outdoors_the_push_is_shared_between_the_points(garland):
    told = about(card(garland(outdoors=True, gusts_mph=Decimal(20))), "Garland in the wind")

    # 10 ft by about 16 in at 1.024 psf and 1.2: about 16 lb over 11 points.
    assert told.answer.state == "stop"
    assert "1.5 lb at each of its 11 points; a hook holds 1 lb. Tie it to something solid" in told.answer.sentence


def test_what_stands_outdoors_needs_ballast(garland):
    """A column of 6 ft by 2 ft: 14.7 lb of wind, so 66 lb of base on a plate 2 ft wide, less its own weight."""
    booking = garland(outdoors=True, gusts_mph=Decimal(20))
    column = Layout(
        tuple(Balloon(0, -6 - 12 * n, 0, 12, 12, colour().key, "packed") for n in range(6)),
        ((0, 0), (0, -72)),
        72,
        24,
        points=(),
    )
    booking.pieces.update(layout=column.to_json())
    told = about(card(booking), "Garland in the wind")

    assert told.answer.state == "care"
    assert "push it with 14.7 lb: its base needs 66." in told.answer.sentence
    assert "on a plate 24 in wide" in told.answer.sentence
    assert about(card(booking), "Garland").answer.sentence == "Nothing of it hangs from the building."


@pytest.mark.parametrize(
    ("form", "measures", "said"),
    [
        pytest.param("column", {"height_mm": 6 * FOOT}, "its base needs", id="a column stands"),
        pytest.param(
            "arch", {"span_mm": 10 * FOOT, "rise_mm": 8 * FOOT}, "each of its 2 bases needs", id="an arch stands"
        ),
        pytest.param("garland", {"length_mm": 12 * FOOT, "shape": "straight"}, "points; a hook holds", id="one hangs"),
        pytest.param(
            "arch", {"span_mm": 10 * FOOT, "rise_mm": 8 * FOOT, "helium": True}, "Wind lays helium", id="one floats"
        ),
    ],
)
def test_packed_pieces_are_held_as_they_stand_hang_or_float(owner, form, measures, said):
    booking = BookingFactory(created_by=owner)
    spec = PackedSpec(form, ((colour().key, 100),), size=11, outdoors=True, **measures)
    keep(booking, owner, "packed", spec, "Packed")

    assert said in about(card(booking), "Packed in the wind").answer.sentence


def test_an_arch_shares_its_ballast_between_its_two_bases(owner):
    """Half the push on each: twice what the card says at one base holds the whole arch."""
    booking = BookingFactory(created_by=owner, gusts_mph=Decimal(20))
    spec = PackedSpec("arch", ((colour().key, 100),), size=11, outdoors=True, span_mm=10 * FOOT, rise_mm=8 * FOOT)
    keep(booking, owner, "packed", spec, "Packed")
    layout, weight = packed.lay_out(spec), 0.0
    for line in materials(layout, rules=MaterialRules(), outdoors=True).lines:
        weight += line.needed * {"latex": 4.7, "tie": 1.688, "line": 3.0}.get(line.sort, 0.0)
    bounds = layout.bounds()
    height = (bounds.bottom - bounds.top) / 24
    whole = ballast(drag(20, silhouette(layout), 1.2), height=height, base=2, weight=weight / POUND)

    assert bases_of(layout) == 2
    assert (
        f"each of its 2 bases needs {whole.pounds / 2:.1f} lb"
        in about(card(booking), "Packed in the wind").answer.sentence
    )


def test_a_hand_counted_piece_shares_its_weight_evenly(owner):
    booking = BookingFactory(created_by=owner)
    spec = CountedSpec(lines=((colour().key, 36, 2),), minutes=50, line_ft=6, attachments=1)
    keep(booking, owner, "counted", spec, "Two large")

    told = about(card(booking), "Two large")
    assert told.answer.state == "care"
    assert "nothing else holds if it lets go" in told.answer.sentence


def test_a_metric_studio_reads_grams(garland):
    told = about(card(garland(), "metric"), "Garland")
    assert "a hook holds 454 g" in told.answer.sentence


def test_owner_and_crew_read_the_card(garland, owner_client, crew_client):
    booking = garland(hang_height_mm=FOOT * 9)
    for browser in (owner_client, crew_client):
        page = browser.get(reverse("bookings:detail", args=[booking.pk])).content.decode()
        assert "Load and site" in page
        assert "Keep 1 ft 6 in (0.46 m) clear below sprinklers" in page
        assert "rigging that needs a licence" in page
        assert "<dt>Hangs at</dt><dd>9 ft</dd>" in page


def test_only_the_owner_reads_what_is_likely_earned(garland, owner_client, crew_client):
    booking = garland()
    address = reverse("bookings:detail", args=[booking.pk])
    mine, theirs = owner_client.get(address).content.decode(), crew_client.get(address).content.decode()

    assert "of work, most likely between" in mine
    assert "You should earn $" in mine
    assert "most likely between" not in theirs
    assert "$" not in theirs.split("Load and site")[1].split("Sources")[0]


def test_no_piece_has_no_card(owner_client):
    page = owner_client.get(reverse("bookings:detail", args=[BookingFactory().pk])).content.decode()
    assert "Load and site" not in page


def test_looking_it_over_says_the_ranges(garland, owner_client):
    booking = garland(event_on="2027-06-01")
    page = owner_client.get(reverse("bookings:quote-issue", args=[booking.pk])).content.decode()

    assert "of work, most likely between" in page
    assert "an hour, most likely between $" in page
    assert "balloons go into it" in page


def test_the_editor_says_the_ranges(garland, owner_client):
    booking = garland()
    page = owner_client.get(reverse("bookings:piece", args=[booking.pk, booking.pieces.get().pk])).content.decode()

    assert re.search(r", likely [0-9 hmin]+ to [0-9 hmin]+ · you earn \$[0-9.]+ to \$[0-9.]+ an hour", page)
