"""The site check: what the place asks for against what the job brings, each rule met, not met or not known.

Every check is a plain sentence with the source of its rule. None of them replaces the venue's word, local code or a
licensed rigger. What nobody has looked at is not known, and that is not the same as met. Heights are inches, weights
grams, volumes litres, winds miles an hour.
"""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import time
from math import isfinite
from typing import Literal

from estimating.afloat import Cylinder, vehicle_cautions
from estimating.load import grams_in_words
from estimating.site import CLEARANCES, LADDER_SOURCE, LADDERS, POINT_SOURCE, feet_and_inches, ladder_answer
from estimating.specs import SpecError, SpecErrors
from estimating.wind import MARGIN, PRESSURE_SOURCE, WIND_SOURCE, wind_answer, wind_in_words
from studio.units import System

State = Literal["met", "unmet", "not known"]

OXYGEN = 0.209
"""Part of dry air that is oxygen."""

LEAST_OXYGEN = 0.195
OXYGEN_SOURCE = "air with less than 19.5 % of oxygen is oxygen-deficient: 29 CFR 1910.134(d)(2)(iii) and 1910.146(b)"
VEHICLE_SOURCE = "49 CFR 173.6, materials of trade: 220 lb a cylinder and 440 lb a vehicle"
SPRINKLER_GAP, SPRINKLER_SOURCE = next(
    (inches, source) for name, inches, _, source in CLEARANCES if name == "sprinklers"
)
EXITS_SOURCE = "International Fire Code, maintenance of means of egress; NFPA 101 (2012) 7.1.10 as cited"
LATEX_SOURCE = "NIOSH 97-135: latex can cause severe allergic reactions; many hospitals and schools refuse it"
HELIUM_OUT_SOURCE = "common practice: decorators’ own policies"
ACCESS_SOURCE = "the venue’s own hours, as they are written down"
CYLINDER_WORDS = "secured upright, its cap on, and with the windows open"


@dataclass(frozen=True, slots=True)
class Check:
    """One rule and how it stands. `figures` are what it was reckoned from: its stamp changes with them."""

    key: str
    about: str
    state: State
    sentence: str
    source: str
    figures: tuple[object, ...] = ()

    @property
    def stamp(self) -> str:
        """Short text that changes with the state and with any figure, and not with how they are worded."""
        return hashlib.sha256(repr((self.key, self.state, self.figures)).encode()).hexdigest()[:32]


@dataclass(frozen=True, slots=True)
class HungPiece:
    """A piece that hangs: what each of its points bears, what each is rated for (None where nobody has said).

    `one_fewer` is the most any bears once another has let go, None for a single point. `hook` is what one of the
    studio's hooks holds. `unknown` are things on it that nobody has weighed.
    """

    key: int
    name: str
    grams: tuple[float, ...]
    ratings: tuple[float | None, ...]
    one_fewer: float | None
    hook: float
    unknown: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class StandingPiece:
    """A piece that stands outdoors: the grams of ballast each of its bases needs, and gets (None: nobody has said)."""

    key: int
    name: str
    needs: float
    gets: float | None


@dataclass(frozen=True, slots=True)
class Helium:
    """The cylinders that go along and all that is in them, and the air of the van and of the room (None: not known)."""

    cylinders: tuple[Cylinder, ...]
    litres: float
    van_litres: float
    room_litres: float | None


@dataclass(frozen=True, slots=True)
class Figures:
    """Everything the check of a place is reckoned from. What nobody has said is None, or an empty word."""

    height: float | None = None
    ladders: tuple[float, ...] = ()
    hung: tuple[HungPiece, ...] = ()
    standing: tuple[StandingPiece, ...] = ()
    outdoors: bool = False
    indoors: bool = True
    helium_outdoors: bool = False
    gusts: float | None = None
    wind_limit: float = 23.6
    sprinklers: Literal["", "none", "some"] = ""
    sprinkler_gap: float | None = None
    exits: Literal["", "clear", "crossed"] = ""
    has_latex: bool = True
    latex: Literal["", "none", "some"] = ""
    helium: Helium | None = None
    arrives: time | None = None
    access: tuple[time | None, time | None] = (None, None)


def oxygen_left(released: float, room: float) -> float:
    """The part of a closed room's air that is oxygen once so many litres of helium have mixed into it.

    The helium pushes as much air out: 0.209 · (1 − released / room). Raises SpecErrors for a room of nothing.
    """
    errors = []
    if not (isfinite(released) and released >= 0):
        errors.append(SpecError("released", "must be 0 or more", released))
    if not (isfinite(room) and room > 0):
        errors.append(SpecError("room", "must be above 0", room))
    if errors:
        raise SpecErrors(errors)
    return OXYGEN * max(0.0, 1 - released / room)


def check_site(given: Figures, *, measures: System) -> list[Check]:
    """Every rule that this job and place touch: what is not met first, then what is not known."""
    found = [
        *_ladder(given),
        *(_points(piece, measures) for piece in given.hung),
        *_wind(given),
        *(_ballast(piece, measures) for piece in given.standing),
        *_sprinklers(given),
        _exits(given),
        *_latex(given),
        *_helium(given),
        *_access(given),
    ]
    order: list[State] = ["unmet", "not known", "met"]
    return sorted(found, key=lambda check: order.index(check.state))


def _ladder(given: Figures) -> list[Check]:
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


def _points(piece: HungPiece, measures: System) -> Check:
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
    said = f"A point bears at most {words(heaviest)}; the weakest is rated for {words(weakest)}.{alone}"
    return "met", said


def _wind(given: Figures) -> list[Check]:
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


def _ballast(piece: StandingPiece, measures: System) -> Check:
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


def _sprinklers(given: Figures) -> list[Check]:
    if not given.indoors:
        return []
    figures = (given.sprinklers, None if given.sprinkler_gap is None else round(given.sprinkler_gap, 2))
    need = feet_and_inches(SPRINKLER_GAP)

    def check(state: State, said: str) -> list[Check]:
        return [Check("sprinklers", "Sprinklers", state, said, SPRINKLER_SOURCE, figures)]

    if given.sprinklers == "none":
        return check("met", "There are no sprinklers above it.")
    if not given.sprinklers:
        return check("not known", f"Nobody has looked for sprinklers: {need} below them stays clear.")
    if given.sprinkler_gap is None:
        return check("not known", f"How far it stays below the sprinklers is not measured: {need} at least.")
    gap = feet_and_inches(given.sprinkler_gap)
    if given.sprinkler_gap < SPRINKLER_GAP:
        return check("unmet", f"It comes within {gap} of a sprinkler; {need} below it stays clear.")
    return check("met", f"It stays {gap} below the sprinklers; {need} is the least.")


def _exits(given: Figures) -> Check:
    states: dict[str, tuple[State, str]] = {
        "": ("not known", "Nobody has looked whether ways out, exit signs, alarms and extinguishers stay clear."),
        "clear": ("met", "Ways out, exit signs, alarms and extinguishers stay clear."),
        "crossed": ("unmet", "Something stands in a way out, or hides an exit sign, an alarm or an extinguisher."),
    }
    state, said = states[given.exits]
    return Check("exits", "Exits", state, said, EXITS_SOURCE, (given.exits,))


def _latex(given: Figures) -> list[Check]:
    if not given.has_latex:
        return []
    states: dict[str, tuple[State, str]] = {
        "": ("not known", "Nobody has asked whether a guest, a worker or the venue must do without latex."),
        "none": ("met", "Nobody there must do without latex, as far as they were asked."),
        "some": ("unmet", "Somebody there is allergic to latex, or the venue refuses it, and this job is of latex."),
    }
    state, said = states[given.latex]
    return [Check("latex", "Latex allergy", state, said, LATEX_SOURCE, (given.latex,))]


def _helium(given: Figures) -> list[Check]:
    if given.helium is None:
        return []
    helium = given.helium
    number = len(helium.cylinders)
    all_of_it = f"{number} cylinder{'' if number == 1 else 's'} ({helium.litres:,.0f} litres)"
    found = []
    if heavy := vehicle_cautions(helium.cylinders):
        weights = tuple(one.gross_lb for one in helium.cylinders)
        found.append(Check("helium-law", "Cylinders in the van", "unmet", " ".join(heavy), VEHICLE_SOURCE, weights))
    rooms = (
        ("helium-van", "Helium in the van", "van", helium.van_litres, f": carry it {CYLINDER_WORDS}"),
        ("helium-room", "Helium in the room", "room", helium.room_litres, ": air it, and get out where gas gets out"),
    )
    for key, about, where, litres, remedy in rooms:
        if litres is None:
            if given.indoors:
                said = "How large the room is is not written down: it decides what helium does to its air."
                found.append(Check(key, about, "not known", said, OXYGEN_SOURCE, (round(helium.litres), None)))
            continue
        figures = (round(helium.litres), round(litres))
        if litres <= 0:
            said = f"The {where} must hold some air; {litres:g} litres is none."
            found.append(Check(key, about, "not known", said, OXYGEN_SOURCE, figures))
            continue
        left = oxygen_left(helium.litres, litres)
        said = f"If all of {all_of_it} got out in the closed {where}, {_percent(left)} of its air would be oxygen"
        if left < LEAST_OXYGEN:
            said += f", less than the 19.5 % people need{remedy}."
            found.append(Check(key, about, "unmet", said, OXYGEN_SOURCE, figures))
        else:
            said += "; 19.5 % is the least. Helium gathers under the ceiling first."
            found.append(Check(key, about, "met", said, OXYGEN_SOURCE, figures))
    return found


def _percent(part: float) -> str:
    """To a tenth, rounded down: what is just below a limit must not read as the limit."""
    return f"{int(part * 1000 + 1e-9) / 10:g} %"


def _access(given: Figures) -> list[Check]:
    opens, closes = given.access
    if given.arrives is None or opens is None:
        return []
    until = f" to {closes:%H:%M}" if closes else ""
    figures = (f"{given.arrives:%H:%M}", f"{opens:%H:%M}", f"{closes:%H:%M}" if closes else None)
    if closes is None:
        inside = given.arrives >= opens
    elif opens <= closes:
        inside = opens <= given.arrives < closes
    else:
        # The window spans midnight.
        inside = given.arrives >= opens or given.arrives < closes
    if inside:
        said = f"The install begins at {given.arrives:%H:%M}; one may get in from {opens:%H:%M}{until}."
    else:
        said = f"The install begins at {given.arrives:%H:%M}, and one may get in from {opens:%H:%M}{until} only."
    return [Check("access", "Getting in", "met" if inside else "unmet", said, ACCESS_SOURCE, figures)]
