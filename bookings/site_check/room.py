"""What must stay clear in a room, who must do without latex, and when one may get in."""

from bookings.site_check.figures import Check, Figures, State
from estimating.site import CLEARANCES, feet_and_inches

SPRINKLER_GAP, SPRINKLER_SOURCE = next(
    (inches, source) for name, inches, _, source in CLEARANCES if name == "sprinklers"
)
EXITS_SOURCE = "International Fire Code, maintenance of means of egress; NFPA 101 (2012) 7.1.10 as cited"
LATEX_SOURCE = "NIOSH 97-135: latex can cause severe allergic reactions; many hospitals and schools refuse it"
ACCESS_SOURCE = "the venue’s own hours, as they are written down"


def sprinkler_checks(given: Figures) -> list[Check]:
    """Does it stay far enough below the sprinklers?"""
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


def exits_check(given: Figures) -> Check:
    """Do ways out stay clear?"""
    states: dict[str, tuple[State, str]] = {
        "": ("not known", "Nobody has looked whether ways out, exit signs, alarms and extinguishers stay clear."),
        "clear": ("met", "Ways out, exit signs, alarms and extinguishers stay clear."),
        "crossed": ("unmet", "Something stands in a way out, or hides an exit sign, an alarm or an extinguisher."),
    }
    state, said = states[given.exits]
    return Check("exits", "Exits", state, said, EXITS_SOURCE, (given.exits,))


def latex_checks(given: Figures) -> list[Check]:
    """Must somebody there do without latex?"""
    if not given.has_latex:
        return []
    states: dict[str, tuple[State, str]] = {
        "": ("not known", "Nobody has asked whether a guest, a worker or the venue must do without latex."),
        "none": ("met", "Nobody there must do without latex, as far as they were asked."),
        "some": ("unmet", "Somebody there is allergic to latex, or the venue refuses it, and this job is of latex."),
    }
    state, said = states[given.latex]
    return [Check("latex", "Latex allergy", state, said, LATEX_SOURCE, (given.latex,))]


def access_checks(given: Figures) -> list[Check]:
    """Does the install begin while one may get in?"""
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
