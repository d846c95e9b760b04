"""Helium takes the place of air: in the van and in the room."""

from math import isfinite

from bookings.site_check.figures import Check, Figures
from estimating.afloat import vehicle_cautions
from estimating.specs import SpecError, SpecErrors

OXYGEN = 0.209
"""Part of dry air that is oxygen."""

LEAST_OXYGEN = 0.195
OXYGEN_SOURCE = "air with less than 19.5 % of oxygen is oxygen-deficient: 29 CFR 1910.134(d)(2)(iii) and 1910.146(b)"
VEHICLE_SOURCE = "49 CFR 173.6, materials of trade: 220 lb a cylinder and 440 lb a vehicle"
CYLINDER_WORDS = "secured upright, its cap on, and with the windows open"


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


def helium_checks(given: Figures) -> list[Check]:
    """What helium does to the air of the van and of the room, and what the law says of driving it."""
    if given.helium is None:
        return []
    helium = given.helium
    number = len(helium.cylinders)
    all_of_it = f"{helium.litres:,.0f} litres of {number} cylinder{'' if number == 1 else 's'}"
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
        said = f"If all {all_of_it} got out in the closed {where}, {_percent(left)} of its air would be oxygen"
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
