"""What a choice comes to and takes, in plain figures."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookings.choosing import (
    Asked,
    Choice,
    Extra,
    NoSuchChoice,
    Offer,
    Option,
    agreed,
    most_needed,
    needed_of,
    numbers,
)

amounts = st.builds(Asked, st.integers(0, 10**9), st.integers(0, 10**8), st.integers(0, 10**8))


@st.composite
def offers(draw):
    options = [Option(n + 1, f"Option {n + 1}", draw(amounts)) for n in range(draw(st.integers(1, 3)))]
    extras = [
        Extra(n + 1, f"Extra {n + 1}", "", draw(amounts), draw(st.booleans())) for n in range(draw(st.integers(0, 6)))
    ]
    return Offer(tuple(options), tuple(extras))


@st.composite
def choices(draw, offer):
    option = draw(st.sampled_from([one.number for one in offer.options]))
    ticked = [extra.number for extra in offer.extras if draw(st.booleans())]
    return Choice(option, frozenset(ticked))


@given(st.data())
def test_any_choice_comes_to_the_sum_of_what_is_in_it(data):
    offer = data.draw(offers())
    choice = data.draw(choices(offer))
    asked = agreed(offer, choice)
    parts = [one.asked for one in offer.options if one.number == choice.option]
    parts += [one.asked for one in offer.extras if one.number in choice.extras]
    assert asked.price == sum(part.price for part in parts)
    assert asked.tax == sum(part.tax for part in parts)
    assert asked.deposit == sum(part.deposit for part in parts)
    assert asked.total == sum(part.total for part in parts)


@given(offers())
def test_the_first_choice_is_one_that_is_offered(offer):
    assert agreed(offer, offer.first_choice).total >= offer.options[0].asked.total


@pytest.mark.parametrize(
    "choice",
    [
        pytest.param(Choice(0), id="no option"),
        pytest.param(Choice(3), id="an option beyond the last"),
        pytest.param(Choice(1, frozenset([2])), id="an extra beyond the last"),
        pytest.param(Choice(2, frozenset([1, 9])), id="one extra that is offered and one that is not"),
    ],
)
def test_a_choice_that_is_not_offered_is_refused(choice):
    asked = Asked(100, 8, 50)
    offer = Offer((Option(1, "Simple", asked), Option(2, "Full", asked)), (Extra(1, "Take-down", "", asked),))
    with pytest.raises(NoSuchChoice, match="this quote offers"):
        agreed(offer, choice)


@pytest.mark.parametrize("typed", ["", "-1", "1.0", "one", "9999", "²", "1 "])
def test_what_is_no_number_of_an_extra_is_refused(typed):
    with pytest.raises(NoSuchChoice):
        numbers([typed])


rows = st.lists(
    st.one_of(
        st.tuples(st.integers(1, 3), st.just(0), st.integers(1, 5), st.integers(1, 500)),
        st.tuples(st.just(0), st.integers(1, 6), st.integers(1, 5), st.integers(1, 500)),
    ),
    unique_by=lambda row: row[:3],
    max_size=30,
)


@given(rows, st.integers(1, 3), st.sets(st.integers(1, 6)))
def test_no_choice_takes_more_of_an_item_than_an_open_quote_holds(rows, option, extras):
    held = most_needed(rows)
    for item, taken in needed_of(Choice(option, frozenset(extras)), rows).items():
        assert taken <= held[item]


@given(rows)
def test_an_open_quote_holds_no_more_than_some_option_with_every_extra_takes(rows):
    every = frozenset(range(1, 7))
    by_option = [needed_of(Choice(option, every), rows) for option in (1, 2, 3)]
    for item, held in most_needed(rows).items():
        assert held == max(needs.get(item, 0) for needs in by_option)
