"""What the drawing of hundreds of balloons adds to the making of a quote's PDF. Run by name; not part of the tests.

python -m pytest tests/bench/bench_quote_pdf.py
"""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from statistics import median
from time import perf_counter, process_time

import pytest

from bookings.paperwork.quote import PaperPiece, quote_pdf
from estimating.drawing import Swatch, svg_for_paper
from estimating.finishes import PAPER_FINISHES
from estimating.kinds import KINDS, GarlandSpec
from studio.press import PRESS
from studio.typesetting import answer
from tests.factories import TOLD

ROUNDS = 7


@pytest.fixture
def set_here(monkeypatch: pytest.MonkeyPatch) -> None:
    """Paper is set in this program, whose processor seconds are counted."""
    monkeypatch.setattr(PRESS, "ask", lambda head, parts, *, answers: answer(head, parts))


TERMS = "The deposit holds your date, and the balance is due a week before the event. " * 40


def garland(feet: int, finish: str = "standard") -> PaperPiece:
    """A garland of nearly nine balloons a foot, in four colours of one finish."""
    spec = GarlandSpec(
        Decimal(feet) * Decimal("304.8"),
        Decimal("558.8"),
        ((5, 30), (11, 62), (16, 8)),
        (("1", 40), ("2", 30), ("3", 20), ("4", 10)),
    )
    layout = KINDS["garland"].lay_out(spec)
    palette = {str(n): Swatch(f"#{n}a5b7{n}", f"Colour {n}", finish) for n in range(1, 5)}
    colours = [{"name": swatch.name, "swatch": swatch.hex, "ink": "#fff", "count": 75} for swatch in palette.values()]
    drawing = svg_for_paper(layout, palette, title="Curtain")
    return PaperPiece("Curtain", f"{feet} ft garland", len(layout.balloons), colours, 124_000, drawing)


def printed(piece: PaperPiece) -> bytes:
    return quote_pdf(
        told=TOLD | {"terms": TERMS},
        pieces=[piece] + [replace(piece, drawing="", name=f"Piece {n}") for n in range(2, 5)],
        currency="USD",
        price_minor=124_000,
        tax_minor=10_230,
        total_minor=134_230,
        deposit_minor=62_000,
        made_at=dt.datetime(2026, 6, 1, 12, 0, tzinfo=dt.UTC),
    )


def interleaved(one: Callable[[], object], other: Callable[[], object]) -> tuple[float, float]:
    """The least processor seconds of each, taken turn by turn: what else runs on the machine only ever adds to them."""
    one(), other()
    timed: tuple[list[float], list[float]] = ([], [])
    for _ in range(ROUNDS):
        for work, kept in zip((one, other), timed, strict=True):
            begun = process_time()
            work()
            kept.append(process_time() - begun)
    return min(timed[0]), min(timed[1])


@pytest.mark.parametrize("finish", list(PAPER_FINISHES))
@pytest.mark.parametrize(("feet", "balloons"), [pytest.param(33, 282, id="300"), pytest.param(88, 748, id="800")])
def test_the_drawing_adds_at_most_a_quarter(feet: int, balloons: int, finish: str, set_here: None) -> None:
    piece = garland(feet, finish)
    assert piece.balloons == pytest.approx(balloons, rel=0.1)
    bare = replace(piece, drawing="")
    drawn_s, bare_s = interleaved(lambda: printed(piece), lambda: printed(bare))
    print(f"{finish}: with the drawing {drawn_s:.3f} s, without {bare_s:.3f} s: {drawn_s / bare_s:.2f} times")
    assert drawn_s <= 1.25 * bare_s


def test_a_quote_is_made_in_a_second_and_a_half_and_80_kb(set_here: None) -> None:
    piece = garland(33)
    printed(piece)
    taken = []
    for _ in range(ROUNDS):
        begun = process_time()
        pdf = printed(piece)
        taken.append(process_time() - begun)
    print(f"{median(taken):.3f} s, {len(pdf) / 1000:.0f} kB")
    assert median(taken) < 1.5
    assert len(pdf) <= 80_000


def test_setting_it_in_a_program_kept_ready_costs_little_more_than_here(monkeypatch: pytest.MonkeyPatch) -> None:
    piece = garland(33)
    begun = perf_counter()
    printed(piece)
    first = perf_counter() - begun
    apart, here = [], []
    for _ in range(ROUNDS):
        begun = perf_counter()
        printed(piece)
        apart.append(perf_counter() - begun)
        with monkeypatch.context() as patched:
            patched.setattr(PRESS, "ask", lambda head, parts, *, answers: answer(head, parts))
            begun = perf_counter()
            printed(piece)
            here.append(perf_counter() - begun)
    print(f"first {first:.2f} s, then {min(apart):.3f} s apart and {min(here):.3f} s here")
    assert min(apart) <= 1.25 * min(here)
