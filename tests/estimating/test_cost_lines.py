"""What ribbon, weights, helium, decals and things off the shelf cost a job."""

from decimal import Decimal

import pytest

from estimating.drawing import Swatch
from estimating.kinds import KINDS, BouquetSpec, LetteredSpec
from estimating.lines import Line, Site
from estimating.models import Rates
from estimating.queries import PieceToMake, advice_on, cost_lines, estimate_job, inflated_in_force, palette
from stock.actions import items_for
from stock.models import Item
from tests.factories import ColourFactory, ItemFactory, OfferFactory

pytestmark = pytest.mark.django_db

RATES = Rates(
    usual_other_minor=12, usual_ribbon_minor=3, usual_weight_minor=80, usual_helium_minor=450, usual_decal_minor=600
)


def a_piece(kind, spec):
    return PieceToMake("It", kind, spec, KINDS[kind].lay_out(spec))


def a_job(*pieces, **also):
    return estimate_job(pieces, rates=RATES, currency="USD", **also)


@pytest.mark.parametrize(
    ("sort", "label", "unit"),
    [
        pytest.param("ribbon", "Ribbon", Decimal(3), id="a foot of ribbon"),
        pytest.param("weight", "Weights", Decimal(80), id="a weight"),
        pytest.param("gas", "Helium", Decimal("4.5"), id="a litre of helium"),
        pytest.param("decal", "Decals", Decimal(600), id="a decal"),
        pytest.param("hook", "Hooks", Decimal(12), id="a hook"),
    ],
)
def test_what_nobody_offers_costs_what_the_rates_say(sort, label, unit):
    (line,) = cost_lines([Line(sort, None, None, 10, 2)], rates=RATES)
    assert (line.label, line.item, line.unit_minor, line.cost_minor) == (label, None, unit, 12 * unit)


def test_helium_that_is_offered_costs_what_the_cylinder_does():
    gas = items_for([("gas", None, None)])["gas", None, None]
    OfferFactory(item=gas, pack_size=6900, price_minor=34_500)
    (line,) = cost_lines([Line("gas", None, None, 100, 13)], rates=RATES)
    assert (line.item, line.unit_minor) == (gas, 5)


def test_a_thing_off_the_shelf_is_found_by_its_key():
    stand = ItemFactory(sort=Item.Sort.OTHER, colour=None, size=None, name="Stand")
    OfferFactory(item=stand, pack_size=1, price_minor=2200)
    (line,) = cost_lines([Line("item", None, None, 2, 0, str(stand.pk))], rates=RATES)
    assert (line.key, line.item, line.label, line.cost_minor) == (("item", stand.pk, None), stand, "Stand", 4400)


def test_a_thing_that_is_gone_is_said_to_be():
    (line,) = cost_lines([Line("item", None, None, 2, 0, "987")], rates=RATES)
    assert (line.item, line.label) == (None, "Something that is no longer on the shelf")


def test_a_bouquet_costs_its_ribbon_weights_and_helium_and_takes_their_time():
    colour = ColourFactory()
    stand = ItemFactory(sort=Item.Sort.OTHER, colour=None, size=None, name="Vase")
    spec = BouquetSpec(latex=((colour.key, 11, 5),), extras=((str(stand.pk), 3),))
    job = a_job(a_piece("bouquet", spec), site=Site(hours_afloat=30))
    assert [line.key[0] for line in job.lines] == ["latex", "ribbon", "weight", "gas", "item"]
    assert [step.name for step in job.pieces[0].steps] == ["Inflate", "Tie ribbons"]
    advice = advice_on(job.pieces[0].piece, site=Site(hours_afloat=30), inflated=inflated_in_force())
    assert "seal it inside" in advice[0]
    wanted = items_for([line.key for line in job.lines])
    assert wanted["item", stand.pk, None] == stand
    assert wanted["ribbon", None, None].unit == "ft"


def test_a_lettered_balloon_costs_its_decal():
    spec = LetteredSpec(ColourFactory().key, "Ida")
    job = a_job(a_piece("lettered", spec))
    decal = next(line for line in job.lines if line.key[0] == "decal")
    assert (decal.total, decal.cost_minor) == (1, 600)


def test_less_helium_is_taken_along_to_the_mountains():
    piece = a_piece("bouquet", BouquetSpec(latex=((ColourFactory().key, 11, 9),)))
    low, high = (
        next(line.needed for line in a_job(piece, site=site).lines if line.key[0] == "gas")
        for site in (Site(), Site(altitude_m=2500))
    )
    assert high < 0.8 * low


def test_the_palette_says_finish_and_shape():
    heart = ColourFactory(name="Cherry", swatch="#c02040", finish="foil", form="heart")
    plain = ColourFactory(name="Ink", swatch="#22314f")
    assert palette() == {
        heart.key: Swatch("#c02040", "Cherry foil heart", "foil", "heart"),
        plain.key: Swatch("#22314f", "Ink", "standard", "round"),
    }
