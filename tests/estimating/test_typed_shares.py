"""Sizes and colours by their shares, as people move them: evened, added, taken out."""

from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.forms import CountedForm, GarlandForm
from estimating.forms.fields import evened, whole_percent, with_one_fewer, with_one_more
from tests.typed_pieces import COUNTED, GARLAND, INK, garland, posted


def test_shares_that_do_not_add_up_offer_the_button_that_makes_them():
    assert garland(**{"sizes-11": "52"}).uneven == {"sizes"}
    assert garland().uneven == set()


def test_the_sizes_in_front_are_the_usual_ones_those_on_the_shelf_and_those_in_the_mix():
    form = garland(sizes=(9, 11), **{"sizes-16": "4", "sizes-24": "4"})
    assert [row.size for row in form.size_rows] == [5, 9, 11, 16, 24]
    assert [row.percent for row in form.size_rows] == [30, 0, 62, 4, 4]
    assert {row.size for row in form.more_size_rows} == {3, 6, 10, 12, 14, 17, 18, 30, 36}


def test_at_most_eight_sizes_stand_in_front():
    assert len(garland(sizes=range(1, 40)).size_rows) == 8


def test_colours_keep_the_order_they_were_chosen_in():
    form = garland(**{"colours-1": None, "colours-2": "40", "colours-3": "60"})
    assert [str(row.colour) for row in form.colour_rows] == ["Sand", "Glass clear"]
    assert form.other_colours == [INK]


def test_even_scales_the_sizes_to_a_hundred():
    pressed = GarlandForm.pressed(posted(GARLAND | {"sizes-11": "52"}, even="sizes"))
    assert pressed is not None
    assert [pressed.data[f"sizes-{size}"] for size in (5, 11, 16)] == ["33", "58", "9"]
    assert pressed.field == "sizes"


def test_adding_a_colour_gives_it_a_fair_share_of_a_hundred():
    pressed = GarlandForm.pressed(posted(GARLAND, add="3"))
    assert pressed is not None
    assert [pressed.data[f"colours-{key}"] for key in "123"] == ["40", "27", "33"]


def test_taking_a_colour_out_gives_its_share_to_the_others():
    pressed = GarlandForm.pressed(posted(GARLAND, drop="1"))
    assert pressed is not None
    assert "colours-1" not in pressed.data
    assert pressed.data["colours-2"] == "100"


def test_another_arrangement_changes_the_seed_and_nothing_else():
    pressed = GarlandForm.pressed(posted(GARLAND, another="1"))
    assert pressed is not None
    assert {key: pressed.data[key] for key in GARLAND} == GARLAND | {"seed": "8"}


def test_keep_is_none_of_the_forms_own_buttons():
    assert GarlandForm.pressed(posted(GARLAND)) is None
    assert CountedForm.pressed(posted(COUNTED)) is None


@given(st.dictionaries(st.sampled_from("abcdefgh"), st.integers(0, 100).map(str), min_size=1))
@settings(deadline=None, max_examples=60)
def test_evened_shares_add_up_to_a_hundred_unless_there_are_none(typed):
    total = sum(int(said) for said in evened(typed).values())
    assert total == (100 if any(said != "0" for said in typed.values()) else 0)


@given(st.dictionaries(st.sampled_from("abcdefgh"), st.integers(1, 100).map(str), min_size=1, max_size=7))
@settings(deadline=None, max_examples=60)
def test_a_colour_more_or_less_leaves_a_hundred(typed):
    more = with_one_more(typed, "z", 8)
    assert sum(map(int, more.values())) == 100
    assert sum(map(int, with_one_fewer(more, "z").values())) == 100


@given(st.text(max_size=12))
@settings(deadline=None, max_examples=80)
def test_any_text_is_a_percent_or_is_not(typed):
    percent = whole_percent(typed)
    assert percent is None or 0 <= percent <= 100
