"""Moves between stages."""

import pytest

from studio.transitions import MoveRefused, check

# packed ──▶ loaded ──▶ home
#    └──────────────────▲
ROUTE = {"packed": ["loaded", "home"], "loaded": ["home"], "home": []}


@pytest.mark.parametrize(("now", "to"), [(now, to) for now, onward in ROUTE.items() for to in onward])
def test_a_move_in_the_table_is_allowed(now, to):
    check(ROUTE, now, to)


@pytest.mark.parametrize(("now", "to"), [(now, to) for now in ROUTE for to in ROUTE if to not in ROUTE[now]])
def test_every_other_pair_of_stages_is_refused(now, to):
    with pytest.raises(MoveRefused):
        check(ROUTE, now, to)


@pytest.mark.parametrize(
    ("now", "to", "sentence"),
    [
        pytest.param("packed", "packed", "This is already packed.", id="where it is"),
        pytest.param(
            "loaded",
            "packed",
            "This is loaded, so it cannot become packed: next can be home.",
            id="backwards",
        ),
        pytest.param("home", "loaded", "This is home, which is final: it cannot become loaded.", id="past the end"),
    ],
)
def test_a_refusal_is_a_sentence_that_says_why(now, to, sentence):
    with pytest.raises(MoveRefused) as refused:
        check(ROUTE, now, to)
    assert refused.value.sentence == str(refused.value) == sentence
    assert (refused.value.now, refused.value.to) == (now, to)


def test_a_refusal_names_every_stage_that_could_come_next():
    with pytest.raises(MoveRefused, match="next can be quoted, lost or cancelled"):
        check({"enquiry": ["quoted", "lost", "cancelled"], "done": [], "quoted": []}, "enquiry", "done")


@pytest.mark.parametrize(("now", "to"), [("sold", "home"), ("home", "sold")])
def test_a_stage_the_table_does_not_know_is_a_mistake_in_the_program(now, to):
    with pytest.raises(KeyError, match="sold"):
        check(ROUTE, now, to)
