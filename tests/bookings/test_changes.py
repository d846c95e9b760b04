"""What a new version says it changed."""

import dataclasses

import pytest

from bookings.changes import Offered, OfferedPiece, changes_between

BEFORE = Offered(
    title="Winter gala",
    day="Saturday 12 December 2026",
    place="Corn Hall",
    terms="Pay a week before.",
    total="$541.25",
    deposit="$275.00",
    pieces=[OfferedPiece("Garland", "30 ft × 22 in, 269 balloons", "$500.00")],
)


def test_the_same_offer_changed_nothing():
    assert changes_between(BEFORE, BEFORE) == []


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        pytest.param({"title": "Gala"}, "Title: Winter gala became Gala.", id="title"),
        pytest.param({"day": "mid June"}, "Day: Saturday 12 December 2026 became mid June.", id="day"),
        pytest.param({"place": ""}, "Place: Corn Hall became not said.", id="place taken out"),
        pytest.param({"terms": "Pay now."}, "The terms were changed.", id="terms"),
        pytest.param({"deposit": "$100.00"}, "Deposit: $275.00 became $100.00.", id="deposit"),
        pytest.param({"total": "$600.00"}, "Total: $541.25 became $600.00.", id="total"),
        pytest.param({"pieces": []}, "Garland was taken out.", id="piece taken out"),
    ],
)
def test_one_change_is_one_sentence(changed, sentence):
    assert changes_between(BEFORE, dataclasses.replace(BEFORE, **changed)) == [sentence]


def test_a_piece_says_what_became_of_it():
    after = dataclasses.replace(
        BEFORE,
        pieces=[
            OfferedPiece("Garland", "24 ft × 22 in, 210 balloons", "$420.00"),
            OfferedPiece("Two 36-inch", "2 balloons", "$80.00"),
        ],
    )
    assert changes_between(BEFORE, after) == [
        "Garland: 30 ft × 22 in, 269 balloons became 24 ft × 22 in, 210 balloons.",
        "Garland: $500.00 became $420.00.",
        "Two 36-inch was added: 2 balloons, $80.00.",
    ]


def test_two_pieces_of_one_name_are_told_apart_by_their_order():
    twins = dataclasses.replace(BEFORE, pieces=[*BEFORE.pieces, *BEFORE.pieces])
    assert changes_between(twins, BEFORE) == ["Garland was taken out."]
