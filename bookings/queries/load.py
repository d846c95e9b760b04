"""What a job loads and what its place asks for: van, weights, points, ladder, wind, and what must stay clear."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from bookings.models import Booking
from bookings.queries.pictured import isolated
from bookings.queries.weights import ballast_of, ladders_ft, point_loads, things_taken, thousandth
from estimating.afloat import CYLINDERS, cylinders_needed, move_sentences, vehicle_cautions
from estimating.gas import HELIUM_LOST_PERCENT, ROOM_CELSIUS
from estimating.load import (
    POUND,
    Thing,
    Weight,
    grams_in_words,
    room_in_words,
    room_of_things,
    van_load,
    weigh,
)
from estimating.models import Rates
from estimating.queries import JobEstimate, PieceEstimate, material_rules
from estimating.site import (
    DEFERS,
    Answer,
    State,
    clearance_answers,
    ladder_answer,
    points_answer,
)
from estimating.wind import (
    MARGIN,
    PRESSURE_SOURCE,
    WIND_SOURCE,
    bases_of,
    drag,
    drag_coefficient,
    push_in_words,
    silhouette,
    wind_answer,
    wind_in_words,
)
from stock.models import KitPromise
from stock.queries.kit import promised_kit
from studio.units import System, inches, show_length

WORDS = {"fine": ("fine", "covered"), "care": ("take care", "waiting"), "stop": ("stop", "short")}
"""How serious an answer is: the word on its badge, and the badge's state."""

HELIUM_CAUTION = (
    "Stand cylinders upright and secured, air the van and the room, and never breathe it:"
    " helium takes the place of air."
)
HELIUM_SOURCE = "common practice: decorators' own policies"


@dataclass(frozen=True, slots=True)
class Told:
    """What is told about one thing: a title, the answer, and more that explains it."""

    about: str
    answer: Answer
    more: str = ""

    @property
    def word(self) -> str:
        """What its badge says."""
        return WORDS[self.answer.state][0]

    @property
    def badge(self) -> str:
        """The state of its badge."""
        return WORDS[self.answer.state][1]


@dataclass(frozen=True, slots=True)
class SiteCard:
    """All about the load and the place of a job, the most serious first; `clear` is what stays clear anywhere."""

    told: list[Told]
    clear: list[Answer]
    defers: str = DEFERS

    @property
    def sources(self) -> list[str]:
        """Where the rules come from, each once."""
        return list(dict.fromkeys(told.answer.source for told in self.told))


def load_and_site(
    estimate: JobEstimate,
    booking: Booking,
    *,
    rates: Rates,
    measures: System,
    promised: Sequence[KitPromise] | None = None,
    ladders: Sequence[float] | None = None,
) -> SiteCard:
    """The load and the place of a booking, for whoever loads the van and climbs the ladder: no amount is in it.

    `promised` is the kit it was promised and `ladders` are the `ladders_ft` there are, where the caller has read them.
    """
    made = estimate.pieces
    things = things_taken(estimate)
    goes = promised_kit(booking.pk) if promised is None else promised
    told = [_van(estimate, rates, things, goes, measures), *_kit(goes, measures)]
    told += _helium(made, booking)
    told += _ladder(made, booking, ladders)
    told += _weather(made, booking, rates)
    for piece in made:
        told += _piece(piece, booking, rates, measures, things)
    order = list(reversed(WORDS))
    return SiteCard(sorted(told, key=lambda one: order.index(one.answer.state)), clearance_answers())


def _named(names: Iterable[str]) -> str:
    """“Frame, Stand and Eucalyptus”, each in its own direction of reading."""
    *first, last = [isolated(name) for name in names]
    return f"{', '.join(first)} and {last}" if first else last


def _van(
    estimate: JobEstimate, rates: Rates, things: Mapping[str, Thing], goes: Sequence[KitPromise], measures: System
) -> Told:
    """How often the van drives: for the balloons, for what comes off the shelf with them and for the kit."""
    # What is built outdoors is built there, from balloons that travel loose.
    loads = [
        van_load([one.piece.layout], van_cubic_feet=float(rates.van_cubic_feet), tied=not one.materials.outdoors)
        for one in estimate.pieces
    ]
    besides = room_of_things(
        [(things[str(line.key[1])], line.total) for line in estimate.lines if line.key[0] == "item"]
        + [(_kit_as_thing(promise), promise.quantity) for promise in goes]
    )
    room = sum(load.room for load in loads) + besides.cubic_feet
    trips = -(-round(room * 1000) // round(float(rates.van_cubic_feet) * 1000))
    sentence = f"Inflated, it all goes in {trips} van load{'' if trips == 1 else 's'}."
    if trips > 1:
        sentence += " Inflating there saves the driving."
    holds = room_in_words(float(rates.van_cubic_feet), measures)
    more = f"It takes {room_in_words(room, measures)} of van; yours holds {holds}."
    if besides.known:
        more += f" {room_in_words(besides.cubic_feet, measures)} of it is for {_named(besides.known)}."
    if besides.unknown:
        takes = "takes" if len(besides.unknown) == 1 else "take"
        more += f" What {_named(besides.unknown)} {takes} up is not written down: it comes on top."
    source = "balloons fill 60 % of the room loose (from memory) and 45 % tied (no source)"
    return Told("Van", Answer("fine" if trips <= 1 else "care", sentence, source), more)


def _kit(goes: Sequence[KitPromise], measures: System) -> list[Told]:
    """What the kit that was promised to the job weighs in the van, and which of it nobody has weighed."""
    if not goes:
        return []
    known = sum(promise.quantity * (promise.kit.weight_grams or 0) for promise in goes)
    unknown = list(dict.fromkeys(promise.kit.name for promise in goes if promise.kit.weight_grams is None))
    sentences = []
    if known:
        sentences.append(f"What goes along and comes back weighs {grams_in_words(known, measures)}.")
    if unknown:
        sentences.append(f"What {_named(unknown)} weighs is not written down{': it comes on top' if known else ''}.")
    more = f"What a point bears of it is not reckoned: {_listed(goes)}."
    answer = Answer("care" if unknown else "fine", " ".join(sentences), "the weights written down with the kit")
    return [Told("Kit", answer, more)]


def _kit_as_thing(promise: KitPromise) -> Thing:
    kit = promise.kit
    return Thing(kit.name, kit.weight_grams, thousandth(kit.room_millilitres))


def _listed(goes: Sequence[KitPromise]) -> str:
    return ", ".join(f"{promise.quantity} {isolated(promise.kit.name)}" for promise in goes)


def _helium(made: Sequence[PieceEstimate], booking: Booking) -> list[Told]:
    """Which cylinders fill the floating balloons, what the law says of driving them, and what a warmer hall does."""
    litres = sum(one.materials.total_of("gas") for one in made)
    if not litres:
        return []
    cylinder = next((one for one in CYLINDERS if cylinders_needed(litres, one) == 1), CYLINDERS[-1])
    number = cylinders_needed(litres, cylinder)
    each = f"{number} cylinder{'' if number == 1 else 's'} of class {cylinder.name} ({cylinder.content_ft3} ft³ each)"
    sentence = f"{litres:,} litres of helium: {each}, {HELIUM_LOST_PERCENT:g} % of it lost in filling."
    cautions = vehicle_cautions([cylinder] * number)
    answer = Answer("care", " ".join([sentence, *cautions]), "49 CFR 173.6; contents from a trade letter, by real gas")
    told = [Told("Helium", answer, HELIUM_CAUTION)]
    largest = max(
        (balloon.diameter for one in made for balloon in one.piece.layout.balloons if balloon.gas == "helium"),
        default=None,
    )
    if largest is not None and booking.celsius is not None:
        told += [
            Told("From the studio to the hall", Answer("care", said, "the gas law, at constant pressure"))
            for said in move_sentences(largest, from_celsius=ROOM_CELSIUS, to_celsius=float(booking.celsius))
        ]
    return told


def _ladder(made: Sequence[PieceEstimate], booking: Booking, ladders: Sequence[float] | None) -> list[Told]:
    if booking.hang_height_mm is None:
        if not any(one.materials.attachments for one in made):
            return []
        sentence = "How high it hangs is not written down yet: it decides the ladder."
        return [Told("Ladder", Answer("care", sentence, "the details of this job"))]
    owned = ladders_ft() if ladders is None else ladders
    return [Told("Ladder", ladder_answer(inches(booking.hang_height_mm), owned))]


def _weather(made: Sequence[PieceEstimate], booking: Booking, rates: Rates) -> list[Told]:
    if not any(one.materials.outdoors for one in made):
        return []
    limit = float(rates.wind_limit_mph)
    if booking.gusts_mph is None:
        sentence = f"Look up the gusts forecast for the day: at {wind_in_words(limit)} you do not install."
        return [Told("Wind", Answer("care", sentence, WIND_SOURCE))]
    return [Told("Wind", wind_answer(float(booking.gusts_mph), limit))]


def _piece(
    one: PieceEstimate, booking: Booking, rates: Rates, measures: System, things: Mapping[str, Thing]
) -> list[Told]:
    layout = one.piece.layout
    weight = weigh(layout, one.materials, items=things)
    loads = point_loads(layout, one.materials, weight, material_rules(rates))
    more = f"It weighs {grams_in_words(weight.total, measures)}: {weight.why(measures)}."
    if weight.unknown:
        more += f" Nobody has weighed {_named(weight.unknown)}: weigh one when you count the shelf."
    told = []
    if loads is not None:
        each, after, holds = (
            grams_in_words(float(grams), measures) for grams in (loads.heaviest, loads.one_fewer or 0, rates.hook_grams)
        )
        answer = points_answer(loads.heaviest, loads.one_fewer, float(rates.hook_grams), said=(each, after, holds))
        if weight.unknown:
            sentence = f"{answer.sentence} {_named(weight.unknown)} come on top: what they weigh is not known."
            answer = replace(answer, state="stop" if answer.state == "stop" else "care", sentence=sentence)
        told.append(Told(one.piece.name, answer, more))
    else:
        sentence = "Nothing of it hangs from the building."
        told.append(Told(one.piece.name, Answer("fine", sentence, "its picture"), more))
    if one.materials.outdoors:
        told.append(_in_the_wind(one, booking, rates, weight, measures))
    return told


def _in_the_wind(one: PieceEstimate, booking: Booking, rates: Rates, weight: Weight, measures: System) -> Told:
    """The push of the gusts expected, or of those at the studio's limit, and what has to hold against it."""
    layout, points = one.piece.layout, one.materials.attachments
    about = f"{one.piece.name} in the wind"
    if any(balloon.gas == "helium" for balloon in layout.balloons):
        sentence = "Wind lays helium balloons flat: most decorators refuse helium outdoors."
        return Told(about, Answer("care", sentence, HELIUM_SOURCE))
    mph = float(rates.wind_limit_mph if booking.gusts_mph is None else booking.gusts_mph)
    push = drag(mph, silhouette(layout), drag_coefficient(layout))
    sentence = f"Gusts of {wind_in_words(mph)} push it with {_pounds(push, measures)}"
    if points:
        each = push * POUND / points
        holds = float(rates.hook_grams)
        sentence += f", {grams_in_words(each, measures)} at each of its {points} points"
        sentence += f"; a hook holds {grams_in_words(holds, measures)}."
        state: State = "fine"
        if each > holds / 2:
            state = "stop" if each > holds else "care"
            sentence += " Tie it to something solid instead."
        return Told(about, Answer(state, sentence, PRESSURE_SOURCE), push_in_words(layout, mph))
    bases = bases_of(layout)
    held = ballast_of(layout, weight, rates, mph=mph)
    each_of = "its base needs" if bases == 1 else f"each of its {bases} bases needs"
    sentence += f": {each_of} {_pounds(held.pounds, measures)} of ballast"
    sentence += f" on a plate {show_length(rates.base_mm, measures)} wide, half as much again as just holds."
    tipping, sliding = _pounds(held.tipping, measures), _pounds(held.sliding, measures)
    more = f"{push_in_words(layout, mph)} Against tipping {tipping}, against sliding {sliding}, at each base."
    return Told(about, Answer("care", sentence, f"{PRESSURE_SOURCE}; a margin of {MARGIN:g}"), more)


def _pounds(pounds: float, measures: System) -> str:
    return grams_in_words(pounds * POUND, measures)
