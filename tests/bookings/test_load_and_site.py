"""The load and the place on a job's page: van, weights, points, ladder, wind."""

import re
from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pytest
from django.urls import reverse

from bookings import actions
from bookings.models import Booking
from bookings.queries.estimates import booking_estimate, place_of
from bookings.queries.load import SiteCard, Told, load_and_site
from estimating.kinds import BouquetSpec, CountedSpec, FloatsSpec, GarlandSpec, LetteredSpec, PackedSpec, packed
from estimating.layout import Balloon, Layout
from estimating.lines import Site
from estimating.load import POUND
from estimating.materials import MaterialRules, materials
from estimating.models import Rates
from estimating.queries import advice_on, inflated_in_force
from estimating.wind import ballast, bases_of, drag, silhouette
from stock.models import Colour, Item
from studio.models import User
from studio.units import System
from tests.factories import NOON, BookingFactory, ColourFactory, KitFactory, KitPromiseFactory

pytestmark = pytest.mark.django_db
FOOT = Decimal("304.8")


def keep(booking: Booking, owner: User, kind: str, spec: Any, name: str) -> None:
    """Add a piece to a booking."""
    actions.keep_piece(
        booking=booking, piece=None, edition=0, name=name, kind=kind, spec=spec, typed={}, by=owner, at=NOON
    )


def colour() -> Colour:
    """The one colour there is."""
    return Colour.objects.first() or ColourFactory(name="Black")


@pytest.fixture
def garland(owner: User) -> Callable[..., Booking]:
    """A booking with a straight garland of 10 ft, indoors or out."""

    def make(*, outdoors: bool = False, feet: int = 10, **fields: Any) -> Booking:
        booking = BookingFactory(created_by=owner, **fields)
        spec = GarlandSpec(
            length_mm=FOOT * feet,
            width_mm=Decimal("25.4") * 16,
            mix=((5, 40), (11, 60)),
            colours=((colour().key, 100),),
            outdoors=outdoors,
            shape="straight",
        )
        keep(booking, owner, "garland", spec, "Garland")
        return booking

    return make


def card(booking: Booking, measures: System = "imperial", **rates: Any) -> SiteCard:
    """The card of a booking as its page shows it."""
    estimate = booking_estimate(booking, currency="USD")
    assert estimate is not None
    booking.refresh_from_db()
    return load_and_site(estimate, booking, rates=Rates(**rates), measures=measures)


def about(told: SiteCard, title: str) -> Told:
    """What the card tells of one thing."""
    return next(one for one in told.told if one.about == title)


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


@pytest.fixture
def framed(garland, owner):
    """A garland with two frames and a stand."""

    def make(frame: int | None, stand: int | None = None) -> Booking:
        frames, stands = (
            Item.objects.update_or_create(sort="other", name=name, defaults={"piece_milligrams": milligrams})[0]
            for name, milligrams in (("Arch frame", frame), ("Stand", stand))
        )
        booking: Booking = garland()
        piece = booking.pieces.get()
        spec = piece.spec | {"extras": [[str(frames.pk), 2], [str(stands.pk), 1]]}
        booking.pieces.update(spec=spec)
        return booking

    return make


def test_things_off_the_shelf_weigh_what_somebody_weighed_one_at(framed):
    light = about(card(framed(1, 1), "metric"), "Garland")
    heavy = about(card(framed(2_500_000, 1_000_000), "metric"), "Garland")

    assert "frames and the like 6 kg" in heavy.more
    assert "Nobody has weighed" not in heavy.more
    # 6 kg more on five points, of which those between bear a quarter.
    assert "A point bears 1.6 kg" in heavy.answer.sentence
    assert heavy.answer.state == "stop"
    assert light.answer.state == "fine"


def test_things_nobody_has_weighed_are_named_and_never_pass_as_fine(framed):
    told = about(card(framed(None)), "Garland")

    assert told.answer.state == "care"
    assert "Arch frame and Stand come on top: what they weigh is not known." in told.answer.sentence
    assert "Nobody has weighed Arch frame and Stand: weigh one when you count the shelf." in told.more


def test_the_van_names_what_nobody_has_said_the_room_of(framed):
    more = about(card(framed(1)), "Van").more
    assert "What Arch frame and Stand take up is not written down: it comes on top." in more
    Item.objects.filter(name="Stand").update(room_millilitres=28_317)
    more = about(card(framed(1)), "Van").more
    assert "1.0 ft³ of it is for Stand. What Arch frame takes up is not written down: it comes on top." in more


def test_things_and_kit_fill_the_van_and_cost_it_trips(framed):
    booking = framed(1)
    Item.objects.filter(name="Arch frame").update(room_millilitres=1_415_842)  # 50 cubic feet each, and two go.
    Item.objects.filter(name="Stand").update(room_millilitres=283_168)
    bare = about(card(booking, van_cubic_feet=Decimal(140)), "Van")
    KitPromiseFactory(booking=booking.pk, kit=KitFactory(name="Base plate", room_millilitres=566_337), quantity=3)
    KitPromiseFactory(booking=booking.pk, kit=KitFactory(name="Lead"), quantity=1)
    told = about(card(booking, van_cubic_feet=Decimal(140)), "Van")

    assert bare.answer.sentence == "Inflated, it all goes in 1 van load."
    assert "110 ft³ of it is for Arch frame and Stand." in bare.more
    assert told.answer.sentence.startswith("Inflated, it all goes in 2 van loads.")
    assert "170 ft³ of it is for Arch frame, Stand and Base plate." in told.more
    assert "What Lead takes up is not written down: it comes on top." in told.more


def test_a_metric_studio_reads_the_van_in_cubic_metres(framed):
    booking = framed(1, 1)
    Item.objects.filter(sort="other").update(room_millilitres=40_000)
    more = about(card(booking, "metric"), "Van").more
    assert "yours holds 7.1 m³." in more
    assert "0.12 m³ of it is for Arch frame and Stand." in more


def test_helium_outdoors_is_warned_of(garland):
    booking = garland(outdoors=True)
    afloat = Layout((Balloon(0, -60, 0, 9.5, 11, colour().key, "float", gas="helium"),), (), 60, 10, points=())
    booking.pieces.update(layout=afloat.to_json())

    assert "Wind lays helium balloons flat" in about(card(booking), "Garland in the wind").answer.sentence


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


def test_the_place_written_down_is_what_helium_is_reckoned_for():
    written = BookingFactory.build(altitude_mm=Decimal("1609344"), celsius=Decimal("31.4"), hours_afloat=9)
    assert place_of(written) == Site(altitude_m=1609, celsius=31, hours_afloat=9)
    assert place_of(BookingFactory.build()) == Site()


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


@pytest.fixture
def bouquets(owner: User) -> Callable[..., Booking]:
    """A booking with as many helium bouquets of seven as asked for, so many times over."""

    def make(alike: int, *, times: int = 1, **fields: Any) -> Booking:
        booking = BookingFactory(created_by=owner, **fields)
        spec = BouquetSpec(latex=((colour().key, 11, 7),), foils=(), alike=alike, helium=True)
        for n in range(times):
            keep(booking, owner, "bouquet", spec, f"Bouquets {n}")
        return booking

    return make


@pytest.mark.parametrize(
    ("times", "said"),
    [
        pytest.param(1, "1 cylinder of class KH (244 ft³ each)", id="the smallest that does alone"),
        pytest.param(4, "3 cylinders of class T (291 ft³ each)", id="more than one holds"),
    ],
)
def test_helium_says_which_cylinders_fill_it(bouquets, times, said):
    assert said in about(card(bouquets(60, times=times)), "Helium").answer.sentence


def test_more_cylinders_than_a_vehicle_may_carry_are_said(bouquets):
    assert "at most 440 lb" in about(card(bouquets(60, times=4)), "Helium").answer.sentence


def test_helium_is_cautioned(bouquets):
    assert "never breathe it" in about(card(bouquets(1)), "Helium").more


def test_a_hot_hall_asks_for_less_in_each_balloon(bouquets):
    assert "grows to" in about(card(bouquets(1, celsius=Decimal(40))), "From the studio to the hall").answer.sentence


def test_a_job_without_helium_says_nothing_of_it(garland):
    assert "Helium" not in {one.about for one in card(garland()).told}


@pytest.mark.parametrize(
    ("kind", "made"),
    [
        pytest.param("floats", lambda key: FloatsSpec(10 * FOOT, 10 * FOOT, ((key, 100),)), id="floats"),
        pytest.param("bouquet", lambda key: BouquetSpec(latex=((key, 11, 5),)), id="a bouquet"),
        pytest.param("lettered", lambda key: LetteredSpec(key, size=24), id="a large one"),
    ],
)
def test_a_page_opens_when_what_was_to_float_no_longer_does(owner_client, owner, kind, made):
    """The colour turned out to be foil, and the place to be in the mountains."""
    booking, black = BookingFactory(created_by=owner), colour()
    keep(booking, owner, kind, made(black.key), "Afloat")
    Colour.objects.filter(pk=black.pk).update(finish=Colour.Finish.FOIL)
    Booking.objects.filter(pk=booking.pk).update(altitude_mm=5_000_000)

    assert owner_client.get(reverse("bookings:detail", args=[booking.pk])).status_code == 200
    estimate = booking_estimate(Booking.objects.get(pk=booking.pk), currency="USD")
    assert estimate is not None
    site = place_of(Booking.objects.get(pk=booking.pk))
    advice = advice_on(estimate.pieces[0].piece, site=site, inflated=inflated_in_force())
    assert "does not carry itself on helium at 5,000 m" in " ".join(advice)


def test_kit_is_weighed_with_the_van(garland):
    booking = garland()
    KitPromiseFactory(kit=KitFactory(name="Hoop", weight_grams=4_000), quantity=2, booking=booking.pk)
    told = about(card(booking, "metric"), "Kit")

    assert told.answer.state == "fine"
    assert told.answer.sentence == "What goes along and comes back weighs 8 kg."
    assert told.more == "What a point bears of it is not reckoned: 2 Hoop."


def test_kit_nobody_has_weighed_is_named(garland):
    booking = garland()
    KitPromiseFactory(kit=KitFactory(name="Hoop", weight_grams=4_000), booking=booking.pk)
    KitPromiseFactory(kit=KitFactory(name="Arch frame"), booking=booking.pk)
    KitPromiseFactory(kit=KitFactory(name="Of another job"), booking=booking.pk + 1)
    told = about(card(booking, "metric"), "Kit")

    assert told.answer.state == "care"
    assert told.answer.sentence.endswith("What Arch frame weighs is not written down: it comes on top.")
    assert "Of another job" not in told.answer.sentence + told.more


def test_a_job_without_kit_says_nothing_of_kit(garland):
    assert "Kit" not in {told.about for told in card(garland()).told}
