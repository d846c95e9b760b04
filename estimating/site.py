"""The place: ladders that reach, points that hold, what must stay clear.

Every answer is a sentence with the source of its rule, and how serious it is: fine, care, or stop. None of it
replaces the venue's word, local code or a licensed rigger. Heights are inches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, isfinite
from typing import Literal

from estimating.specs import SpecError, SpecErrors

State = Literal["fine", "care", "stop"]

FOOT = 12.0


@dataclass(frozen=True, slots=True)
class Answer:
    """How serious it is, the sentence, and where its rule comes from."""

    state: State
    sentence: str
    source: str


LADDERS: tuple[tuple[int, float, float], ...] = (
    (4, 23, 102),
    (6, 45, 124),
    (8, 68, 147),
    (10, 91, 170),
    (12, 114, 193),
    (16, 160, 239),
    (18, 183, 262),
    (20, 206, 284),
)
"""Stepladder (ft), highest standing level and highest reach (in) for a person of 5 ft 9 in who reaches 12 in above the
head."""

LADDER_SOURCE = (
    "University of Kentucky, Occupational Health and Safety: ladder reach for a person of 5 ft 9 in; "
    "the top step is not a step (29 CFR 1926.1053(b)(13))"
)

FROM_THE_FLOOR = 79.0
"""What the same person reaches standing on the floor: the table's reach less its standing level."""


def ladder_reach(ladder_ft: float) -> float:
    """How high hands reach from a stepladder, standing no higher than is safe; between two of the table, on the line
    that joins them. Raises SpecErrors for one the table does not cover.
    """
    shortest, longest = LADDERS[0][0], LADDERS[-1][0]
    if not shortest <= ladder_ft <= longest:
        rule = f"must be from {shortest} ft to {longest} ft, which the published table covers"
        raise SpecErrors([SpecError("ladder", rule, f"{ladder_ft:g} ft")])
    for (low, _, low_reach), (high, _, high_reach) in pairwise(LADDERS):
        if ladder_ft <= high:
            return low_reach + (high_reach - low_reach) * (ladder_ft - low) / (high - low)
    raise AssertionError("the last ladder of the table is the longest")


def least_ladder(height: float) -> float | None:
    """The shortest stepladder (ft) from which hands reach a height (in); 0 for none needed, None where none reaches."""
    if height <= FROM_THE_FLOOR:
        return 0.0
    if height <= LADDERS[0][2]:
        return float(LADDERS[0][0])
    for (low, _, low_reach), (high, _, high_reach) in pairwise(LADDERS):
        if height <= high_reach:
            return low + (high - low) * (height - low_reach) / (high_reach - low_reach)
    return None


def ladder_plus_four(ladder_ft: float) -> float:
    """What the trade's rule of thumb says a ladder reaches: its length and four feet (in)."""
    return (ladder_ft + 4) * FOOT


def ladder_answer(height: float, owned_ft: Sequence[float]) -> Answer:
    """Does one of the studio's ladders reach a hanging height (in)? Raises SpecErrors for a height of nothing."""
    if not (isfinite(height) and height > 0):
        raise SpecErrors([SpecError("hanging height", "must be above 0", f"{height:g} in")])
    said = feet_and_inches(height)
    if height <= FROM_THE_FLOOR:
        return Answer("fine", f"{said} is within reach from the floor.", LADDER_SOURCE)
    needed = least_ladder(height)
    if needed is None:
        sentence = f"No stepladder of the table reaches {said}: it takes a lift and somebody trained for it."
        return Answer("stop", sentence, LADDER_SOURCE)
    usable = sorted(ladder for ladder in owned_ft if LADDERS[0][0] <= ladder <= LADDERS[-1][0])
    reaching = [ladder for ladder in usable if ladder >= needed - 1e-9]
    if reaching:
        ladder, reach = feet_and_inches(reaching[0] * FOOT), feet_and_inches(ladder_reach(reaching[0]))
        return Answer("fine", f"To hang at {said} take the ladder of {ladder}: it reaches {reach}.", LADDER_SOURCE)
    sentence = f"To hang at {said} takes a ladder of at least {_next_half_foot(needed)}."
    if usable:
        longest, reach = feet_and_inches(usable[-1] * FOOT), feet_and_inches(ladder_reach(usable[-1]))
        sentence += f" Your longest, {longest}, reaches {reach}."
        if ladder_plus_four(usable[-1]) >= height:
            sentence += " The rule of ladder and four feet would call it enough; the table does not."
    return Answer("stop" if usable else "care", sentence, LADDER_SOURCE)


POINT_SOURCE = "half of what the maker says it holds is common practice, no source"


def points_answer(heaviest: float, one_fewer: float | None, rating: float, *, said: Sequence[str]) -> Answer:
    """Does what each point bears (grams) stay within what a hook holds? `said` are the three figures in words.

    Raises SpecErrors for a weight below nothing or a hook that holds nothing.
    """
    errors = [SpecError("weight", "must be 0 or more", heaviest)] if not heaviest >= 0 else []
    if not rating > 0:
        errors.append(SpecError("rating", "must be above 0", rating))
    if errors:
        raise SpecErrors(errors)
    each, after, holds = said
    if heaviest > rating:
        sentence = f"A point bears {each} and your hooks hold {holds}: use stronger ones, or more of them."
        return Answer("stop", sentence, POINT_SOURCE)
    if heaviest > rating / 2:
        return Answer("care", f"A point bears {each}, more than half of the {holds} a hook holds.", POINT_SOURCE)
    if one_fewer is None:
        sentence = f"The one point bears {each} of the {holds} a hook holds; nothing else holds if it lets go."
        return Answer("care", sentence, POINT_SOURCE)
    if one_fewer > rating:
        sentence = f"A point bears {each}, but {after} should the next let go, and a hook holds {holds}."
        return Answer("care", sentence, POINT_SOURCE)
    sentence = f"A point bears at most {each} ({after} should the next let go); a hook holds {holds}."
    return Answer("fine", sentence, POINT_SOURCE)


CLEARANCES: tuple[tuple[str, float, str, str], ...] = (
    (
        "sprinklers",
        18.0,
        "Keep {} clear below sprinklers and hang nothing from them.",
        "NFPA 25 (2011) 5.2.1.2, as cited by a life-safety consultancy",
    ),
    ("detectors", 36.0, "Hang nothing on or within {} of a smoke or heat detector.", "a college's safety rules"),
    (
        "headroom",
        80.0,
        "Over a way out, keep at least {} of headroom, and cover no exit sign, alarm or extinguisher.",
        "NFPA 101 (2012) 7.1.10 as cited",
    ),
    ("sides", 4.0, "Along a way out, nothing sticks out more than {} from the wall.", "NFPA 101 as cited"),
)
"""What it is about, inches, the sentence, and its source."""

DEFERS = (
    "The venue decides where you may hang and from what; local code comes first, and rigging that needs a licence is "
    "done by someone who has one."
)


def clearance_answers() -> list[Answer]:
    """What must stay clear at any venue."""
    return [
        Answer("care", sentence.format(feet_and_inches(inches)), source) for _, inches, sentence, source in CLEARANCES
    ]


def feet_and_inches(inches: float) -> str:
    """“10 ft 4 in (3.15 m)”, to the inch."""
    feet, rest = divmod(round(inches), 12)
    imperial = " ".join(
        part for part in (f"{feet} ft" if feet else "", f"{rest} in" if rest or not feet else "") if part
    )
    return f"{imperial} ({inches * 0.0254:.2f} m)"


def _next_half_foot(feet: float) -> str:
    return feet_and_inches(ceil(round(feet * 2, 6)) / 2 * FOOT)
