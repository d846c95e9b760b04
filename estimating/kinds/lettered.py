"""One large balloon with lettering, a tassel or greenery below it, on a stand or floating over a weight."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from math import pi, sin
from random import Random

from estimating.afloat import afloat_advice, sealing
from estimating.bags import Diameters
from estimating.gas import (
    floating_diameter,
    helium_lines,
    lift_of,
    ribbon_lines,
    weight_lines,
    weights_for,
)
from estimating.layout import WEIGHT_HEIGHT, Balloon, Gas, Layout
from estimating.lettering import (
    LEAST_SURPLUS,
    MOST_SURPLUS,
    USUAL_SURPLUS,
    Fit,
    fit_of,
    smallest_balloon,
    spare_decals,
)
from estimating.lines import Line, Measured, Said, Site, Task
from estimating.setting import Point, Setting, Words
from estimating.specs import (
    INFLATED,
    OwnFigures,
    Spec,
    SpecError,
    SpecErrors,
    check_colour,
    check_extras,
    check_millimetres,
    check_true_or_false,
    check_whole,
)

NAME = "lettered"
TITLE = "Large balloon with lettering"

INCH = Decimal("25.4")
LARGE = (24, 30, 36)
TRIMS = ("none", "tassel", "greenery")
LONGEST_TEXT = 60

TASSEL_STRANDS, TASSEL_FT = 14, 3.0
"""A tassel of fourteen ribbons a yard long (common practice, no source)."""

GAP = 4.0
SPRIGS = 5


@dataclass(frozen=True, slots=True)
class LetteredSpec(Spec):
    """A large balloon with lettering as asked for. Raises SpecErrors with everything that is wrong.

    `decal_width_mm` by `decal_height_mm` is the lettering as it is cut, flat; `surplus_percent` is how much too long
    the studio lets the rim of a decal be on the ball; `script` is lettering with fine strokes. `height_mm` is from the
    floor to the top of the balloon: on a stand it is filled with air, over a weight with helium.
    """

    colour: str
    text: str = ""
    size: int = 36
    decal_width_mm: Decimal = 9 * INCH
    decal_height_mm: Decimal = 4 * INCH
    surplus_percent: Decimal = USUAL_SURPLUS
    script: bool = False
    trim: str = "tassel"
    helium: bool = True
    height_mm: Decimal = 84 * INCH
    inner: str | None = None
    sealed: bool = False
    outdoors: bool = False
    extras: tuple[tuple[str, int], ...] = ()
    seed: int = 1

    def __post_init__(self) -> None:
        size = check_whole("size", self.size, min(LARGE), max(LARGE))
        if not size and self.size not in LARGE:
            size = [SpecError("size", f"must be one of {', '.join(map(str, LARGE))}", self.size)]
        errors = [
            *check_colour("colour", self.colour),
            *self._text_errors(),
            *size,
            *check_millimetres("decal_width_mm", self.decal_width_mm, INCH, 200 * INCH, "from 1 in to 200 in"),
            *check_millimetres("decal_height_mm", self.decal_height_mm, INCH / 4, 40 * INCH, "from 1/4 in to 40 in"),
            *check_true_or_false("script", self.script),
            *check_true_or_false("helium", self.helium),
            *check_millimetres("height_mm", self.height_mm, 24 * INCH, 240 * INCH, "from 2 ft to 20 ft"),
            *(check_colour("inner", self.inner) if self.inner is not None else []),
            *check_true_or_false("sealed", self.sealed),
            *check_true_or_false("outdoors", self.outdoors),
            *check_extras("extras", self.extras),
            *check_whole("seed", self.seed, 0, 2**31 - 1),
        ]
        if self.trim not in TRIMS:
            errors.append(SpecError("trim", f"must be one of {', '.join(TRIMS)}", self.trim))
        if not isinstance(self.surplus_percent, Decimal) or not LEAST_SURPLUS <= self.surplus_percent <= MOST_SURPLUS:
            rule = f"must be from {LEAST_SURPLUS} to {MOST_SURPLUS}"
            errors.append(SpecError("surplus_percent", rule, self.surplus_percent))
        if errors:
            raise SpecErrors(errors)

    def _text_errors(self) -> list[SpecError]:
        if not isinstance(self.text, str) or len(self.text) > LONGEST_TEXT:
            return [SpecError("text", f"must be at most {LONGEST_TEXT} letters", len(str(self.text)))]
        return []

    def letters(self) -> int:
        """How many letters are set, without the spaces."""
        return sum(1 for letter in self.text if not letter.isspace())

    def decal(self) -> tuple[float, float]:
        """Width and height of the lettering in inches."""
        return float(self.decal_width_mm / INCH), float(self.decal_height_mm / INCH)

    def own_figures(self) -> OwnFigures:
        """It hangs from nothing, so there is neither line nor a point."""
        return OwnFigures(line_ft=0, attachments=0)


def diameter_of(spec: LetteredSpec, inflated: Mapping[int, float] = INFLATED) -> float:
    """Inches across of the balloon as it is filled."""
    inflated = Diameters.of(inflated)
    return floating_diameter(spec.size, inflated) if spec.helium else inflated[spec.size]


def fit(spec: LetteredSpec, diameter: float) -> Fit:
    """How the lettering goes on. Raises SpecErrors where it does not, even over two balloons."""
    if not spec.letters():
        return Fit(0.0, 1, 1)
    return fit_of(*spec.decal(), diameter, surplus_percent=spec.surplus_percent)


def lay_out(spec: LetteredSpec, *, inflated: Mapping[int, float] = INFLATED) -> Layout:
    """The balloon, or the two that its lettering is spread over. Raises SpecErrors where it cannot be made so."""
    diameter, height = diameter_of(spec, inflated), float(spec.height_mm / INCH)
    trim = TASSEL_FT * 12 if spec.trim == "tassel" else diameter * 0.3 if spec.trim == "greenery" else 6.0
    if height < diameter + trim + WEIGHT_HEIGHT:
        least = diameter + trim + WEIGHT_HEIGHT
        rule = f"must be at least {least + 0.5:.0f} in for size {spec.size} with trim {spec.trim}"
        raise SpecErrors([SpecError("height_mm", rule, f"{height:g} in")])
    going_on, rng = fit(spec, diameter), Random(spec.seed)
    balloons: list[Balloon] = []
    strings: list[tuple[Point, ...]] = []
    sprigs: list[tuple[Point, ...]] = []
    words: list[Words] = []
    texts = _halved(spec.text.strip()) if going_on.balloons == 2 else (spec.text.strip(),)
    width, tall = spec.decal()
    for n, text in enumerate(texts):
        x, y = n * (diameter + GAP), -height + diameter / 2
        gas: Gas = "helium" if spec.helium else "air"
        balloons.append(Balloon(x, y, 0.0, diameter, spec.size, spec.colour, "float", spec.inner, gas=gas))
        if text:
            # What is wrapped round the ball is seen narrower.
            seen = diameter * sin(min(width / going_on.balloons / diameter, pi / 2))
            words.append(Words(text, x, y, min(seen, 0.92 * diameter), tall))
        neck = (x, y + diameter / 2)
        strings.append(_line_down(neck, -WEIGHT_HEIGHT, spec.helium))
        if spec.trim == "tassel":
            strings += _tassel(neck, rng)
        if spec.trim == "greenery":
            sprigs += _greenery(neck, diameter, rng)
    return Layout(
        balloons=tuple(balloons),
        spine=(),
        length=height,
        width=diameter,
        strings=tuple(strings),
        points=(),
        setting=Setting(
            weights=tuple((b.x, -WEIGHT_HEIGHT) for b in balloons), sprigs=tuple(sprigs), words=tuple(words)
        ),
    )


def said(spec: LetteredSpec, layout: Layout, measured: Measured) -> Said:
    """“Large balloon lettered “Mia 30” with a tassel”, “36-inch, 7 ft high”."""
    what = "Large balloon" if len(layout.balloons) == 1 else "Two large balloons"
    what += f" lettered “\u2068{spec.text.strip()}\u2069”" if spec.letters() else ""
    what += {"tassel": " with a tassel", "greenery": " with greenery"}.get(spec.trim, "")
    return Said(what, f"{measured(float(spec.height_mm / INCH))} high")


def extras(spec: LetteredSpec, layout: Layout, site: Site) -> tuple[Line, ...]:
    """Decals, the ribbon of tail and tassel, and with helium the weights."""
    number = len(layout.balloons)
    lines: list[Line] = []
    if letters := spec.letters():
        spare = spare_decals(letters, spec.decal()[1], fine=spec.script)
        lines.append(Line("decal", None, None, number, spare))
    feet = TASSEL_STRANDS * TASSEL_FT * number if spec.trim == "tassel" else 0.0
    if spec.helium:
        feet += sum(-WEIGHT_HEIGHT - b.y - b.diameter / 2 for b in layout.balloons) / 12
        lines += weight_lines(number * weights_for(lift_of(layout.balloons[:1], site)))
    lines += ribbon_lines(feet, number if feet else 0)
    return (*lines, *helium_lines(layout.balloons, site))


def tasks(spec: LetteredSpec, layout: Layout) -> tuple[Task, ...]:
    """The letters that are set, the ribbons that are tied, and the sealing where it is asked for."""
    number = len(layout.balloons)
    ribbons = number * ((TASSEL_STRANDS if spec.trim == "tassel" else 0) + spec.helium)
    found = [task for task in (Task("letter", spec.letters()), Task("ribbon", ribbons)) if task.count]
    return (*found, *(sealing(layout.balloons) if spec.sealed else ()))


def advice(
    spec: LetteredSpec, layout: Layout, site: Site, *, inflated: Mapping[int, float] = INFLATED
) -> tuple[str, ...]:
    """How the lettering goes on, whether it floats long enough, and what trimming still has to be chosen."""
    said: list[str] = []
    if spec.letters():
        said.append(_fit_sentence(spec, layout.balloons[0].diameter, inflated))
    if spec.helium:
        said += afloat_advice(layout.balloons, site, sealed=spec.sealed)
    if spec.trim == "greenery" and not spec.extras:
        said.append("Choose the greenery from the shelf, so that it is counted and costed.")
    if not spec.helium and not spec.extras:
        said.append("Choose the stand from the shelf, so that it is counted and costed.")
    return tuple(said)


def _fit_sentence(spec: LetteredSpec, diameter: float, inflated: Mapping[int, float]) -> str:
    going_on = fit(spec, diameter)
    if going_on.whole:
        return f"The lettering lies on the balloon as it is: its rim is {going_on.surplus_percent:.1f} % too long."
    large = {size: diameter_of(replace(spec, size=size), inflated) for size in LARGE}
    least = smallest_balloon(*spec.decal(), inflated=large, surplus_percent=spec.surplus_percent)
    whole = f"A {least}-inch carries it whole." if least else "No balloon carries it whole."
    each = f"cut it into {going_on.pieces} pieces" if going_on.pieces > 1 else "set it as it is"
    if going_on.balloons == 2:
        return f"The lettering is too large for one balloon: halve it over two, and {each} on each. {whole}"
    return f"To lie flat on a {spec.size}-inch, {each} side by side. {whole}"


def _halved(text: str) -> tuple[str, str]:
    """A text in two, at the space nearest its middle, or else in the middle of its only word."""
    spaces = [n for n, letter in enumerate(text) if letter.isspace()]
    at = min(spaces, key=lambda n: (abs(n - len(text) / 2), n), default=len(text) // 2)
    return text[:at].strip(), text[at:].strip()


def _line_down(neck: Point, bottom: float, floats: bool) -> tuple[Point, ...]:
    """The ribbon to the weight, swaying a little, or the pole of the stand, which does not."""
    (x, top), steps = neck, 12
    sway = 0.02 * (bottom - top) if floats else 0.0
    return tuple((x + sway * sin(2 * pi * n / steps), top + (bottom - top) * n / steps) for n in range(steps + 1))


def _tassel(neck: Point, rng: Random) -> list[tuple[Point, ...]]:
    """Ribbons that hang from the neck, first fanning out and then falling straight, each waving a little."""
    (x, y), strands = neck, []
    for n in range(TASSEL_STRANDS):
        out = 7.0 * (2 * n + 1 - TASSEL_STRANDS) / TASSEL_STRANDS
        down, wave, begun = TASSEL_FT * 12 * (0.78 + 0.2 * rng.random()), 0.5 * (rng.random() - 0.5), rng.random()
        parts = [k / 12 for k in range(13)]
        strands.append(
            tuple(
                (x + out * sin(pi / 2 * part) + wave * part * sin(2 * pi * (1.5 * part + begun)), y + down * part)
                for part in parts
            )
        )
    return strands


def _greenery(neck: Point, diameter: float, rng: Random) -> list[tuple[Point, ...]]:
    """Sprigs that lie about the neck and hang down on both sides."""
    (x, y), stems = neck, []
    for n in range(SPRIGS):
        side = (n - (SPRIGS - 1) / 2) / ((SPRIGS - 1) / 2)
        out, down = diameter * 0.38 * side, diameter * (0.26 - 0.16 * abs(side)) * (0.9 + 0.2 * rng.random())
        parts = [k / 5 for k in range(6)]
        stems.append(tuple((x + out * part, y - 0.5 + down * part * part) for part in parts))
    return stems
