"""The site check: what the place asks for against what the job brings, each rule met, not met or not known.

Every check is a plain sentence with the source of its rule. None of them replaces the venue's word, local code or a
licensed rigger. What nobody has looked at is not known, and that is not the same as met. Heights are inches, weights
grams, volumes litres, winds miles an hour.
"""

from bookings.site_check.air import LEAST_OXYGEN, OXYGEN, helium_checks, oxygen_left
from bookings.site_check.bearing import ballast_check, ladder_checks, points_check, wind_checks
from bookings.site_check.figures import Check, Figures, Helium, HungPiece, StandingPiece, State
from bookings.site_check.room import (
    LATEX_SOURCE,
    SPRINKLER_GAP,
    access_checks,
    exits_check,
    latex_checks,
    sprinkler_checks,
)
from studio.units import System

__all__ = [
    "LATEX_SOURCE",
    "LEAST_OXYGEN",
    "OXYGEN",
    "SPRINKLER_GAP",
    "Check",
    "Figures",
    "Helium",
    "HungPiece",
    "StandingPiece",
    "State",
    "check_site",
    "oxygen_left",
]


def check_site(given: Figures, *, measures: System) -> list[Check]:
    """Every rule that this job and place touch: what is not met first, then what is not known."""
    found = [
        *ladder_checks(given),
        *(points_check(piece, measures) for piece in given.hung),
        *wind_checks(given),
        *(ballast_check(piece, measures) for piece in given.standing),
        *sprinkler_checks(given),
        exits_check(given),
        *latex_checks(given),
        *helium_checks(given),
        *access_checks(given),
    ]
    order: list[State] = ["unmet", "not known", "met"]
    return sorted(found, key=lambda check: order.index(check.state))
