"""Ladders, points, wind and ballast: whether hands reach it, and whether it stays where it was put."""

from collections.abc import Sequence
from math import isfinite

from bookings.site_check.figures import Check, Figures, HungPiece, StandingPiece, State
from estimating.load import grams_in_words
from estimating.site import LADDER_SOURCE, LADDERS, POINT_SOURCE, ladder_answer
from estimating.specs import SpecErrors
from estimating.wind import MARGIN, PRESSURE_SOURCE, WIND_SOURCE, wind_answer, wind_in_words
from studio.units import System

HELIUM_OUT_SOURCE = "common practice: decorators’ own policies"


def ladder_checks(given: Figures) -> list[Check]:
    """Does a ladder of the studio reach the hanging height?"""
    if given.height is None:
        if not given.hung:
            return []
        said = "How high it hangs is not written down: it decides the ladder."
        return [Check("ladder", "Ladder", "not known", said, LADDER_SOURCE)]
    figures = (round(given.height, 2), tuple(round(feet, 3) for feet in sorted(given.ladders)))
    if not (isfinite(given.height) and given.height > 0):
        said = f"The hanging height must be above 0; {given.height:g} in is not."
        return [Check("ladder", "Ladder", "not known", said, LADDER_SOURCE, figures)]
    answer = ladder_answer(given.height, given.ladders)
    said = answer.sentence
    shortest, longest = LADDERS[0][0], LADDERS[-1][0]
    beyond = [feet for feet in given.ladders if not shortest <= feet <= longest]
    if answer.state != "fine":
        if not given.ladders:
            said += " No ladder with a height is among your kit."
        elif beyond:
            count = "One ladder" if len(beyond) == 1 else f"{len(beyond)} ladders"
            said += f" {count} of yours is not counted: the table covers {shortest} ft to {longest} ft."
    return [Check("ladder", "Ladder", "met" if answer.state == "fine" else "unmet", said, answer.source, figures)]


def points_check(piece: HungPiece, measures: System) -> Check:
    """Does every point of a piece hold what it bears, and what it would should the next let go?"""
    holds = [None if rating is None else min(rating, piece.hook) for rating in piece.ratings]
    figures = (
        tuple(round(grams, 1) for grams in piece.grams),
        piece.ratings,
        None if piece.one_fewer is None else round(piece.one_fewer, 1),
        round(piece.hook, 1),
        piece.unknown,
    )
    state, said = _points_said(piece, holds, measures)
    if piece.unknown:
        said += f" What {', '.join(piece.unknown)} weigh is not known and comes on top."
        state = "not known" if state == "met" else state
    return Check(f"points-{piece.key}", f"Points of {piece.name}", state, said, POINT_SOURCE, figures)


def _points_said(piece: HungPiece, holds: Sequence[float | None], measures: System) -> tuple[State, str]:
    def words(grams: float) -> str:
        return grams_in_words(grams, measures)

    at_most = [piece.hook if hold is None else hold for hold in holds]
    over = [n for n, (grams, hold) in enumerate(zip(piece.grams, at_most, strict=True), 1) if grams > hold / 2]
    if over:
        n = max(over, key=lambda number: piece.grams[number - 1] / at_most[number - 1])
        bears, hold = piece.grams[n - 1], at_most[n - 1]
        which = "its hook" if holds[n - 1] is None or hold == piece.hook else "the place"
        limit = "more than" if bears > hold else "more than half of"
        others = "" if len(over) == 1 else f" {len(over) - 1} more of its {len(holds)} points bear too much."
        return "unmet", f"Point {n} bears {words(bears)}, {limit} the {words(hold)} {which} is rated for.{others}"
    weakest = min(at_most)
    if piece.one_fewer is not None and piece.one_fewer > weakest:
        said = (
            f"Should a point let go, the next bears {words(piece.one_fewer)}, more than the {words(weakest)} it holds."
        )
        return "unmet", said
    heaviest = max(piece.grams)
    if missing := sum(1 for hold in holds if hold is None):
        which = "what each point is" if missing == len(holds) else f"what {missing} of {len(holds)} points are"
        said = f"A point bears at most {words(heaviest)} and a hook holds {words(piece.hook)}; "
        return "not known", f"{said}{which} rated for is not written down: ask the venue."
    alone = "" if piece.one_fewer is not None else " Nothing else holds if it lets go."
    limit = "a hook holds" if weakest == piece.hook else "the weakest is rated for"
    said = f"A point bears at most {words(heaviest)}; {limit} {words(weakest)}.{alone}"
    return "met", said


def wind_checks(given: Figures) -> list[Check]:
    """May it go up in the gusts expected?"""
    if not given.outdoors:
        return []
    found = []
    if given.helium_outdoors:
        said = "Wind lays helium balloons flat: most decorators refuse helium outdoors."
        found.append(Check("helium-outdoors", "Helium outdoors", "unmet", said, HELIUM_OUT_SOURCE))
    figures = (given.gusts, given.wind_limit)
    if given.gusts is None:
        said = f"The gusts of the day are not looked up: at {wind_in_words(given.wind_limit)} you do not install."
        return [*found, Check("wind", "Wind", "not known", said, WIND_SOURCE, figures)]
    try:
        answer = wind_answer(given.gusts, given.wind_limit)
    except SpecErrors as refusal:
        said = f"These gusts cannot be: {refusal}"
        return [*found, Check("wind", "Wind", "not known", said, WIND_SOURCE, figures)]
    state: State = "met" if answer.state == "fine" else "unmet"
    return [*found, Check("wind", "Wind", state, answer.sentence, answer.source, figures)]


def ballast_check(piece: StandingPiece, measures: System) -> Check:
    """Does a base get the ballast it needs?"""
    source = f"{PRESSURE_SOURCE}; half as much again as just holds (a margin of {MARGIN:g}, common practice)"
    figures = (round(piece.needs), None if piece.gets is None else round(piece.gets))
    key, about = f"ballast-{piece.key}", f"Ballast of {piece.name}"
    needs = grams_in_words(piece.needs, measures)
    if piece.gets is None:
        said = f"Each base needs {needs}; what you put on it is not written down."
        return Check(key, about, "not known", said, source, figures)
    gets = grams_in_words(piece.gets, measures)
    if piece.gets < piece.needs:
        return Check(key, about, "unmet", f"Each base needs {needs} and gets {gets}.", source, figures)
    return Check(key, about, "met", f"Each base gets {gets} of the {needs} it needs.", source, figures)
