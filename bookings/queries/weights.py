"""What a job's pieces weigh on their points and on the ground, and what is there to reach them."""

from estimating.layout import Layout
from estimating.load import POUND, PointLoads, Thing, Weight, shared_along, shared_evenly
from estimating.materials import MaterialRules, Materials, attachment_points
from estimating.models import Rates
from estimating.queries import JobEstimate
from estimating.site import FOOT
from estimating.wind import Ballast, ballast, bases_of, drag, drag_coefficient, silhouette
from stock.queries.kit import ladder_heights
from studio.units import inches


def point_loads(layout: Layout, materials: Materials, weight: Weight, rules: MaterialRules) -> PointLoads | None:
    """What each point of a piece bears; None where it stands or floats."""
    if not materials.attachments:
        return None
    if layout.points is None and layout.spine:
        every = rules.point_every_ft_outdoors if materials.outdoors else rules.point_every_ft_indoors
        places = attachment_points(layout, every)
        if len(places) == materials.attachments:
            return shared_along(weight.hung, layout.length, places)
    return shared_evenly(weight.hung, materials.attachments)


def things_taken(estimate: JobEstimate) -> dict[str, Thing]:
    """What comes off the shelf besides, by its key, with what one weighs and takes up where somebody has said."""
    found = {}
    for line in estimate.lines:
        if line.key[0] == "item":
            milligrams, millilitres = (
                (None, None) if line.item is None else (line.item.piece_milligrams, line.item.room_millilitres)
            )
            found[str(line.key[1])] = Thing(line.label, thousandth(milligrams), thousandth(millilitres))
    return found


def thousandth(kept: int | None) -> float | None:
    """Grams of milligrams kept, litres of millilitres; None where nobody has said."""
    return None if kept is None else kept / 1000


def ballast_of(layout: Layout, weight: Weight, rates: Rates, *, mph: float) -> Ballast:
    """What each base of a piece that stands needs against gusts of so many miles an hour."""
    bounds, bases = layout.bounds(), bases_of(layout)
    return ballast(
        drag(mph, silhouette(layout), drag_coefficient(layout)) / bases,
        height=(bounds.bottom - bounds.top) / 2 / FOOT,
        base=inches(rates.base_mm) / FOOT,
        weight=weight.total / POUND / bases,
    )


def ladders_ft() -> list[float]:
    """The ladders among the studio's kit, in feet, the shortest first."""
    return [inches(mm) / FOOT for mm in ladder_heights()]
