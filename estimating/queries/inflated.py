"""How far the studio blows its balloons: the one place that knows which table is in force."""

from collections.abc import Iterable, Mapping
from typing import Any

from estimating.bags import Diameters
from estimating.kinds import KINDS
from estimating.layout import Layout
from estimating.models import InflatedDiameter
from estimating.queries.colours import foils_of
from stock.models import Colour
from studio.units import inches


def inflated_in_force(colours: Iterable[Colour] | None = None) -> Diameters:
    """Every size with how far it is blown: the studio's own figures, and the usual ones where it says nothing.

    `colours` are all of them, where the caller has read them, or those that matter: which of them are foil decides how
    large their balloons are.
    """
    foil = Colour.objects.filter(finish=Colour.Finish.FOIL) if colours is None else colours
    own: Mapping[str, dict[int, float]] = {gas: {} for gas in InflatedDiameter.Gas.values}
    for row in InflatedDiameter.objects.all():
        own[row.gas][row.size] = inches(row.mm)
    return Diameters(own[InflatedDiameter.Gas.AIR], own[InflatedDiameter.Gas.HELIUM], foils_of(foil))


def laid_out(kind: str, spec: Any, inflated: Mapping[int, float] | None = None) -> Layout:
    """A piece of a kind laid out with its balloons blown as the studio blows them. Raises SpecErrors.

    `inflated` is the table in force, where the caller has read it.
    """
    return KINDS[kind].lay_out(spec, inflated=inflated_in_force() if inflated is None else inflated)
