"""Two balloons in one: the studio's recipes, and what they stand in for when a colour runs short."""

import datetime as dt
import re
from uuid import uuid4

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse
from django.utils import timezone

from bookings.models import MaterialSwap
from stock import actions
from stock.models import Colour, DoubleRecipe
from stock.queries import Double, cover_board, held_firmly, recipes, stand_ins
from tests.factories import NOON, BookingFactory, ColourFactory, ItemFactory, MovementFactory, ReservationFactory
from tests.opened import send_opened

pytestmark = pytest.mark.django_db


def day(ahead: int) -> dt.date:
    return timezone.localdate() + dt.timedelta(days=ahead)


def shelf(name: str, swatch: str, quantity: int, *, size: int = 24):
    colour = Colour.objects.filter(name=name).first() or ColourFactory(name=name, swatch=swatch)
    item = ItemFactory(colour=colour, size=size)
    MovementFactory(item=item, quantity=quantity)
    return item


def seen(response) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


@pytest.fixture
def gala(db):
    """A booked job that holds six blush 24-inch of which there are none; sand over clay looks like blush."""
    booking = BookingFactory(title="Gala", stage="booked", needed_on=day(5), event_on=day(6))
    booking.blush = shelf("Blush", "#eec3bd", 0)
    booking.sand, booking.clay = shelf("Sand", "#203010", 8), shelf("Clay", "#102030", 7)
    ReservationFactory(item=booking.blush, quantity=6, needed_on=day(5), booking=booking.pk, booking_name="Gala")
    booking.recipe = DoubleRecipe.objects.create(
        outer=booking.sand.colour, inner=booking.clay.colour, looks_like=booking.blush.colour, swatch="#ecc0b8"
    )
    return booking


def offered(gala):
    board = cover_board(timezone.localdate())
    row = next(row for row in board.rows if row.item == gala.blush)
    return stand_ins(row, board.rows, day(5), doubles=recipes())


def swap(browser, gala, *, inside=None, quantity=6, take=None):
    sent = {
        "form_key": str(uuid4()),
        "give_up": gala.blush.pk,
        "take": (take or gala.sand).pk,
        "inside": (inside or gala.clay).pk,
        "quantity": quantity,
    }
    return browser.post(reverse("bookings:swap", args=[gala.pk]), sent, follow=True)


# What is offered.


def test_a_recipe_is_offered_with_how_many_there_are_of_both(gala):
    (double,) = offered(gala)
    assert isinstance(double, Double)
    assert (double.item, double.inner, double.free) == (gala.sand, gala.clay, 7)
    assert re.fullmatch(r"Sand over Clay 24-inch, double-stuffed \(ΔE \d\.\d\), 8 and 7 free", double.words)


def test_a_near_colour_comes_before_two_balloons(gala):
    shelf("Petal", "#eec0ba", 6)
    assert [getattr(one, "label", str(one.item)) for one in offered(gala)] == [
        "Petal 24-inch",
        "Sand over Clay 24-inch",
    ]


@pytest.mark.parametrize("lacking", ["sand", "clay"])
def test_a_recipe_of_which_one_is_promised_away_is_not_offered(gala, lacking):
    item = getattr(gala, lacking)
    ReservationFactory(item=item, quantity=8, needed_on=day(30))
    assert offered(gala) == ()


def test_a_recipe_is_offered_in_the_size_that_is_short(gala):
    gala.clay.size = 11
    gala.clay.save()
    assert offered(gala) == ()


def test_a_recipe_for_another_colour_is_not_offered(gala):
    gala.recipe.looks_like = ColourFactory()
    gala.recipe.save()
    assert offered(gala) == ()


def test_at_most_two_recipes_are_offered_the_nearest_first(gala):
    for n, swatch in enumerate(["#eec3bd", "#e0b0a0", "#d0a090"]):
        inner = shelf(f"Inner {n}", "#000010", 9)
        DoubleRecipe.objects.create(
            outer=gala.sand.colour, inner=inner.colour, looks_like=gala.blush.colour, swatch=swatch
        )
    apart = [double.distance for double in offered(gala)]
    assert len(apart) == 2
    assert apart == sorted(apart)
    assert apart[0] == 0


@pytest.mark.parametrize("reader", ["owner_client", "crew_client"])
@pytest.mark.parametrize("page", ["cover", "item"])
def test_the_pages_offer_it_and_only_the_owner_swaps(reader, page, gala, request):
    address = "/stock/cover/" if page == "cover" else reverse("stock:item", args=[gala.blush.pk])
    told = seen(request.getfixturevalue(reader).get(address))
    assert "Nearest: Sand over Clay 24-inch, double-stuffed" in told
    assert ("Swap 6 to Sand over Clay 24-inch in Gala" in told) == (reader == "owner_client")


def test_the_cover_asks_for_recipes_once(owner_client, gala, django_assert_max_num_queries):
    for n in range(5):
        item = shelf(f"Short {n}", "#ff0000", 0)
        ReservationFactory(item=item, quantity=2, needed_on=day(6))
    with django_assert_max_num_queries(14) as captured:
        owner_client.get("/stock/cover/")
    assert sum("doublerecipe" in query["sql"] for query in captured.captured_queries) == 1


# The swap.


def test_one_tap_holds_two_balloons_for_each_and_tells_of_the_picture(owner_client, gala):
    told = seen(swap(owner_client, gala))
    assert held_firmly(gala.pk) == {gala.sand.pk: 6, gala.clay.pk: 6}
    assert "6 Blush 24-inch are Sand over Clay 24-inch now, two balloons in each." in told
    assert "shows Blush 24-inch: tell them." in told
    assert gala.history.get().what == "6 Blush 24-inch swapped for Sand over Clay 24-inch."


def test_what_a_page_offers_can_be_swapped_as_it_stands(owner_client, gala):
    """The button's own fields, where only a part can be made."""
    ReservationFactory(item=gala.clay, quantity=4, needed_on=day(6))
    page = owner_client.get("/stock/cover/").content.decode()
    form = re.findall(r"<form[^>]*/swap/.*?</form>", page, re.DOTALL)
    fields = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form[0]))
    assert "Swap 3 of 6 to Sand over Clay 24-inch in Gala" in seen(owner_client.get("/stock/cover/"))
    owner_client.post(reverse("bookings:swap", args=[gala.pk]), fields)
    assert held_firmly(gala.pk) == {gala.blush.pk: 3, gala.sand.pk: 3, gala.clay.pk: 3}


def test_the_list_of_the_job_has_both_balloons(owner_client, gala):
    swap(owner_client, gala, quantity=2)
    made = MaterialSwap.objects.get()
    assert made.taken_ids == [gala.sand.pk, gala.clay.pk]
    assert made.taken_words == "Sand over Clay 24-inch"


def test_more_than_can_be_made_of_both_is_not_swapped(owner_client, gala):
    ReservationFactory(item=gala.clay, quantity=4, needed_on=day(5))
    told = seen(swap(owner_client, gala, quantity=4))
    assert "Not swapped. Clay 24-inch has 3 free" in told
    assert held_firmly(gala.pk) == {gala.blush.pk: 6}
    assert not MaterialSwap.objects.exists()


def test_two_balloons_nobody_wrote_a_recipe_for_are_not_swapped(owner_client, gala):
    told = seen(swap(owner_client, gala, take=gala.clay, inside=gala.sand))
    assert "No recipe says that Clay 24-inch over Sand 24-inch looks like Blush 24-inch." in told
    assert held_firmly(gala.pk) == {gala.blush.pk: 6}


def test_one_item_inside_itself_is_refused(owner, gala):
    with pytest.raises(actions.PromiseRefusal, match="each another"):
        actions.swap(
            booking=gala.pk, booking_name="Gala", give_up=gala.blush.pk, take=gala.sand.pk, inside=gala.sand.pk,
            quantity=1, today=timezone.localdate(), by=owner, at=NOON,
        )  # fmt: skip


# The recipes.


def fields(gala, **changed) -> dict[str, str]:
    chosen = {"outer": gala.clay.colour_id, "inner": gala.sand.colour_id, "looks_like": gala.blush.colour_id}
    return {"form_key": str(uuid4()), "swatch": "#eec3bd", **{k: str(v) for k, v in (chosen | changed).items()}}


def test_a_recipe_is_written_down_and_listed(owner_client, gala):
    owner_client.post(reverse("stock:doubles"), fields(gala, typed="abc"))
    made = DoubleRecipe.objects.latest("pk")
    assert (str(made), made.swatch) == ("Clay over Sand", "#aabbcc")
    assert "Clay over Sand stands in for Blush , ΔE" in seen(owner_client.get(reverse("stock:doubles")))


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        pytest.param({"inner": "clay"}, "Inside must be another colour than outside (got Clay for both).", id="one"),
        pytest.param({"looks_like": "clay"}, "Stands in for must be a third colour (got Clay", id="itself"),
        pytest.param({"outer": "sand", "inner": "clay"}, "Sand over Clay stands in for Blush already", id="twice"),
        pytest.param({"outer": ""}, "Outside is needed; nothing was chosen.", id="nothing"),
        pytest.param({"outer": "foil"}, "Outside must be one of your latex colours.", id="foil"),
        pytest.param({"typed": "pinkish"}, "a # and six of 0-9 and a-f", id="no code"),
    ],
)
def test_a_recipe_that_cannot_be_is_refused_on_its_field(owner_client, gala, changes, sentence):
    keys = {name: getattr(gala, name).colour_id for name in ("sand", "clay", "blush")}
    keys["foil"] = ColourFactory(finish="foil").pk
    sent = fields(gala, **{name: keys.get(value, value) for name, value in changes.items()})
    answer = owner_client.post(reverse("stock:doubles"), sent)
    assert answer.status_code == 422
    assert sentence in seen(answer)
    assert DoubleRecipe.objects.count() == 1


def test_a_recipe_is_changed_and_removed(owner_client, gala):
    address = reverse("stock:double", args=[gala.recipe.pk])
    assert "Sand over Clay" in seen(owner_client.get(address))
    sent = fields(gala, outer=gala.sand.colour_id, inner=gala.clay.colour_id, swatch="#ffffff")
    send_opened(owner_client, address, sent)
    gala.recipe.refresh_from_db()
    assert gala.recipe.swatch == "#ffffff"
    gone = {"form_key": str(uuid4())}
    for _ in range(2):
        answer = owner_client.post(reverse("stock:double-remove", args=[gala.recipe.pk]), gone)
        assert answer["Location"] == reverse("stock:doubles")
    assert not DoubleRecipe.objects.exists()


def test_crew_keep_no_recipes(crew_client, gala):
    for name, args in (("doubles", []), ("double", [gala.recipe.pk]), ("double-remove", [gala.recipe.pk])):
        assert crew_client.post(reverse(f"stock:{name}", args=args), fields(gala)).status_code == 403


def test_the_list_asks_as_little_however_long_it_is(owner_client, django_assert_max_num_queries):
    for _ in range(40):
        DoubleRecipe.objects.create(
            outer=ColourFactory(), inner=ColourFactory(), looks_like=ColourFactory(), swatch="#ffffff"
        )
    with django_assert_max_num_queries(11):
        owner_client.get(reverse("stock:doubles"))


@pytest.mark.parametrize("inner", ["outer", "looks_like"])
def test_the_database_refuses_a_recipe_of_fewer_than_three_colours(gala, inner):
    colour = getattr(gala.recipe, inner)
    with pytest.raises(IntegrityError), transaction.atomic():
        DoubleRecipe.objects.filter(pk=gala.recipe.pk).update(inner=colour)
