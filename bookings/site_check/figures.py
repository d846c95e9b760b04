"""What a place is checked by, and what a check says."""

import hashlib
from dataclasses import dataclass
from datetime import time
from typing import Literal

from estimating.afloat import Cylinder

State = Literal["met", "unmet", "not known"]


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
