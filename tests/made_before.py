"""Garlands that tests ask for over and over, laid out and drawn once: the same spec comes out the same every time."""

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from typing import Any

import pytest

from estimating import drawing
from estimating.drawing import Swatch
from estimating.kinds import KINDS, GarlandSpec
from estimating.layout import Layout
from estimating.specs import INFLATED

_GARLAND = KINDS["garland"]
_on_paper = drawing.on_paper


@lru_cache(maxsize=100)
def _laid_out(spec: GarlandSpec, inflated: tuple[tuple[int, float], ...]) -> Layout:
    return _GARLAND.lay_out(spec, inflated=dict(inflated))


@lru_cache(maxsize=100)
def _drawn(
    shown: tuple[Any, ...], palette: tuple[tuple[str, Swatch], ...], keys: tuple[tuple[str, str], ...], wide: float
) -> tuple[str, ...]:
    return tuple(_on_paper(list(shown), dict(palette), dict(keys), wide))


def remember_garlands(patch: pytest.MonkeyPatch) -> None:
    """Until the patch is undone, a garland is laid out, and drawn for paper, only the first time it is asked for."""

    def lay_out(spec: GarlandSpec, *, inflated: Mapping[int, float] = INFLATED) -> Layout:
        return _laid_out(spec, tuple(inflated.items()))

    def on_paper(shown: list[Any], palette: Mapping[str, Swatch], keys: Mapping[str, str], wide: float) -> list[str]:
        return list(_drawn(tuple(shown), tuple(palette.items()), tuple(keys.items()), wide))

    patch.setitem(KINDS, "garland", replace(_GARLAND, lay_out=lay_out))
    patch.setattr(drawing, "on_paper", on_paper)
