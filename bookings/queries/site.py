"""The site check of a booking: its figures gathered, each check, and who goes ahead in spite of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import tzinfo
from decimal import Decimal
from typing import NamedTuple

from bookings.models import Acknowledgement, Booking, Piece, Place
from bookings.queries.allergies import allergies_of
from bookings.queries.estimates import estimate_of, pieces_of, to_make
from bookings.queries.goes_in import made_pieces
from bookings.queries.known import Known, may_have
from bookings.queries.weights import ballast_of, ladders_ft, point_loads, things_taken
from bookings.site_check import Check, Figures, Helium, HungPiece, StandingPiece, check_site
from bookings.timetable import Usual, timetable
from estimating.afloat import CYLINDERS, cylinder_litres, cylinders_needed
from estimating.gas import LITRES_PER_FT3
from estimating.load import POUND, PointLoads, Thing, weigh
from estimating.materials import attachment_points
from estimating.models import Rates
from estimating.queries import JobEstimate, PieceEstimate, material_rules
from estimating.wind import drag, drag_coefficient, silhouette
from stock.models import KitPromise
from studio.units import System, inches

_MM3_IN_A_LITRE = Decimal(1_000_000)


class MadeJob(NamedTuple):
    """What a booking is estimated with: its pieces' keys in their order, and the estimate of them."""

    keys: tuple[int, ...]
    estimate: JobEstimate

    @property
    def pieces(self) -> dict[int, PieceEstimate]:
        """Each piece by its key."""
        return dict(zip(self.keys, self.estimate.pieces, strict=True))


@dataclass(frozen=True, slots=True)
class CheckRow:
    """A check, and who goes ahead though it is not met; what was acknowledged of other figures counts for nothing.

    `before` is the last that was acknowledged of this check when its figures were others.
    """

    check: Check
    acknowledged: Acknowledgement | None = None
    before: Acknowledgement | None = None

    @property
    def is_clear(self) -> bool:
        """Met, or acknowledged as it stands."""
        return self.check.state == "met" or self.acknowledged is not None

    @property
    def badge(self) -> str:
        """The state of its badge."""
        return {"met": "covered", "unmet": "short", "not known": "waiting"}[self.check.state]

    @property
    def word(self) -> str:
        """The word on its badge."""
        return {"met": "met", "unmet": "not met", "not known": "not known"}[self.check.state]


@dataclass(frozen=True, slots=True)
class PiecePoints:
    """What the piece of a key hangs from: where along its spine (inches, None where not known), what each bears."""

    key: int
    name: str
    places: tuple[float | None, ...]
    loads: PointLoads
    ratings: tuple[float | None, ...]
    wind: float = 0.0

    @property
    def grams(self) -> tuple[float, ...]:
        """What each bears: its weight, and outdoors its share of the push of the `wind`, as if it pulled alike."""
        return tuple(point.grams + self.wind for point in self.loads.points)


def made_job(
    booking: Booking,
    *,
    currency: str,
    known: Known | None = None,
    promised: Sequence[KitPromise] | None = None,
) -> MadeJob | None:
    """The booking as it stands; None while it has no pieces. `known` and the kit it was `promised` are read where the
    caller has not."""
    return made_of(booking, pieces_of(booking), currency, known, promised)


def made_of(
    booking: Booking, pieces: Sequence[Piece], currency: str, known: Known | None, promised: Sequence[KitPromise] | None
) -> MadeJob | None:
    """The same of a booking whose pieces the caller has read."""
    kept = made_pieces(pieces) if pieces else []
    if not kept:
        return None
    made = estimate_of([to_make(piece) for piece in kept], booking, currency, known, promised)
    return MadeJob(tuple(piece.pk for piece in kept), made)


def made_anew(
    made: MadeJob, booking: Booking, currency: str, known: Known, promised: Sequence[KitPromise] | None
) -> MadeJob:
    """The same pieces estimated from what is `known` now: a plan reads neither the shelf nor what popped."""
    pieces = [one.piece for one in made.estimate.pieces]
    return MadeJob(made.keys, estimate_of(pieces, booking, currency, known, promised))


def site_rows(
    booking: Booking,
    made: MadeJob | None,
    place: Place,
    *,
    rates: Rates,
    usual: Usual,
    measures: System,
    zone: tzinfo,
    ladders: Sequence[float] | None = None,
) -> list[CheckRow]:
    """Every check of a booking's place, what is not met first. Nothing is checked while nothing is made.

    `usual` is how long parts of a job take where nobody has said, and `ladders` are the `ladders_ft` there are, where
    the caller has read them.
    """
    if made is None:
        return []
    figures = figures_of(booking, made, place, rates=rates, usual=usual, zone=zone, ladders=ladders)
    acknowledged = Acknowledgement.objects.filter(booking=booking).select_related("by").order_by("at", "pk")
    kept = list(acknowledged) if may_have(booking, "acknowledgements") else []
    return [
        _row(check, [one for one in kept if one.key == check.key]) for check in check_site(figures, measures=measures)
    ]


def figures_of(
    booking: Booking,
    made: MadeJob,
    place: Place,
    *,
    rates: Rates,
    usual: Usual,
    zone: tzinfo,
    ladders: Sequence[float] | None = None,
) -> Figures:
    """What a booking's place is checked by."""
    pieces, things = made.pieces, things_taken(made.estimate)
    outdoors = {key: one for key, one in pieces.items() if one.materials.outdoors}
    install = next((slot for slot in timetable(booking.said, zone=zone, usual=usual) if slot.part == "install"), None)
    return Figures(
        height=None if booking.hang_height_mm is None else inches(booking.hang_height_mm),
        ladders=tuple(ladders_ft() if ladders is None else ladders),
        hung=tuple(_hung(one, points, rates, things) for one, points in _points(booking, pieces, place, rates, things)),
        standing=tuple(
            _standing(booking, key, one, place, rates, things) for key, one in outdoors.items() if _stands(one)
        ),
        outdoors=bool(outdoors),
        indoors=len(outdoors) < len(pieces),
        helium_outdoors=any(_floats(one) for one in outdoors.values()),
        gusts=None if booking.gusts_mph is None else float(booking.gusts_mph),
        wind_limit=float(rates.wind_limit_mph),
        sprinklers=place.sprinklers,  # type: ignore[arg-type]
        sprinkler_gap=None if place.sprinkler_gap_mm is None else inches(place.sprinkler_gap_mm),
        exits=place.exits,  # type: ignore[arg-type]
        has_latex=any(_has_latex(one) for one in pieces.values()),
        latex="some" if allergies_of(booking).no_latex else place.latex,  # type: ignore[arg-type]
        helium=_helium(list(pieces.values()), place, rates),
        arrives=install.begins.time() if install is not None and install.begins is not None else None,
        access=(place.access_from, place.access_until),
    )


def points_of(booking: Booking, made: MadeJob, place: Place, *, rates: Rates) -> list[PiecePoints]:
    """The points of every piece that hangs from some, with what the place says they are rated for."""
    return [points for _, points in _points(booking, made.pieces, place, rates, things_taken(made.estimate))]


def _row(check: Check, kept: Sequence[Acknowledgement]) -> CheckRow:
    same = next((one for one in kept if one.stamp == check.stamp), None)
    return CheckRow(check, same, None if same else next(reversed(kept), None))


def _points(
    booking: Booking, pieces: Mapping[int, PieceEstimate], place: Place, rates: Rates, things: Mapping[str, Thing]
) -> list[tuple[PieceEstimate, PiecePoints]]:
    found = []
    rules = material_rules(rates)
    for key, one in pieces.items():
        loads = point_loads(
            one.piece.layout, one.materials, weigh(one.piece.layout, one.materials, items=things), rules
        )
        if loads is None:
            continue
        every = rules.point_every_ft_outdoors if one.materials.outdoors else rules.point_every_ft_indoors
        along = attachment_points(one.piece.layout, every) if one.piece.layout.points is None else []
        many = len(loads.points)
        places: tuple[float | None, ...] = tuple(along) if len(along) == many else (None,) * many
        found.append(
            (
                one,
                PiecePoints(
                    key, one.piece.name, places, loads, _ratings(place, key, many), _wind(booking, one, rates, many)
                ),
            )
        )
    return found


def _ratings(place: Place, key: int, many: int) -> tuple[float | None, ...]:
    """What each point is rated for: its own rating where it was given for as many points as there are now."""
    usual = None if place.point_grams is None else float(place.point_grams)
    kept = place.ratings.get(str(key), {})
    own = kept.get("grams", {}) if kept.get("points") == many else {}
    return tuple(float(own[str(n)]) if str(n) in own else usual for n in range(1, many + 1))


def _wind(booking: Booking, one: PieceEstimate, rates: Rates, points: int) -> float:
    """The grams each point bears of the push of the gusts; nothing indoors."""
    if not one.materials.outdoors:
        return 0.0
    layout = one.piece.layout
    return drag(_mph(booking, rates), silhouette(layout), drag_coefficient(layout)) * POUND / points


def _hung(one: PieceEstimate, points: PiecePoints, rates: Rates, things: Mapping[str, Thing]) -> HungPiece:
    fewer = points.loads.one_fewer
    return HungPiece(
        key=points.key,
        name=points.name,
        grams=points.grams,
        ratings=points.ratings,
        one_fewer=None if fewer is None else fewer + points.wind,
        hook=float(rates.hook_grams),
        unknown=weigh(one.piece.layout, one.materials, items=things).unknown,
    )


def _standing(
    booking: Booking, key: int, one: PieceEstimate, place: Place, rates: Rates, things: Mapping[str, Thing]
) -> StandingPiece:
    weight = weigh(one.piece.layout, one.materials, items=things)
    needs = ballast_of(one.piece.layout, weight, rates, mph=_mph(booking, rates)).pounds * POUND
    gets = None if place.ballast_grams is None else float(place.ballast_grams)
    return StandingPiece(key, one.piece.name, needs, gets)


def _mph(booking: Booking, rates: Rates) -> float:
    """The gusts expected; the studio's limit where nobody has looked them up."""
    return float(rates.wind_limit_mph if booking.gusts_mph is None else booking.gusts_mph)


def _helium(made: Sequence[PieceEstimate], place: Place, rates: Rates) -> Helium | None:
    litres = sum(one.materials.total_of("gas") for one in made)
    if not litres:
        return None
    cylinder = next((one for one in CYLINDERS if cylinders_needed(litres, one) == 1), CYLINDERS[-1])
    number = cylinders_needed(litres, cylinder)
    room = None
    if place.room_length_mm and place.room_width_mm and place.room_height_mm:
        room = float(place.room_length_mm * place.room_width_mm * place.room_height_mm / _MM3_IN_A_LITRE)
    return Helium(
        (cylinder,) * number,
        number * cylinder_litres(cylinder.water_litres, cylinder.psig),
        float(rates.van_cubic_feet) * LITRES_PER_FT3,
        room,
    )


def _floats(one: PieceEstimate) -> bool:
    return any(balloon.gas == "helium" for balloon in one.piece.layout.balloons)


def _stands(one: PieceEstimate) -> bool:
    return not one.materials.attachments and not _floats(one)


def _has_latex(one: PieceEstimate) -> bool:
    ties = any(line.sort == "tie" and line.needed for line in one.materials.lines)
    return ties or any(not balloon.is_foil for balloon in one.piece.layout.balloons)
