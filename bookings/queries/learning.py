"""What the estimates have learned, setting by setting: where it began, what jobs made of it, and what is pinned."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from django.db.models import Count

from bookings.models import Booking, WrapUpFigure, WrapUpLine
from bookings.queries.how_it_went import kind_name
from bookings.queries.seen import Seen, seen
from estimating.hours import PART_NAMES
from estimating.kinds import KINDS
from estimating.lessons import LEARNED_PARTS, Known, balloons_key, minutes_key, pops_key, pops_of, share_words
from estimating.models import Pin, Rates
from estimating.queries import material_rules, pace_stamp
from estimating.specs import SIZES
from stock.models import Item

USUAL_SIZES = (5, 11)
MOST_JOBS = 30
What = WrapUpFigure.What
_KEY = re.compile(
    r"balloons-(?P<kind>[a-z_]+)-(?P<size>\d+)|minutes-(?P<part>[a-z]+)|pops-(?P<place>in|out)-(?P<of>\d+)"
)


@dataclass(frozen=True, slots=True)
class Setting:
    """One thing an estimate uses. `is_chance` says whether it is a share that pops, else it is a factor."""

    key: str
    title: str
    known: Known
    jobs: int
    is_chance: bool
    unit: str
    pin: Pin | None = None

    @property
    def prior_words(self) -> str:
        """Where it began."""
        return self._words(self.known.prior)

    @property
    def learned_words(self) -> str:
        """What jobs made of it."""
        return self._words(self.known.learned)

    @property
    def range_words(self) -> str:
        """Where it lies four times in five."""
        low, high = self._words(self.known.low), self._words(self.known.high)
        return low if low == high else f"between {low} and {high}"

    @property
    def used_words(self) -> str:
        """What estimates use."""
        return self._words(self.known.used)

    @property
    def pinned_words(self) -> str:
        """Where it is pinned; empty where it is not."""
        return "" if self.known.pinned is None else self._words(self.known.pinned)

    @property
    def percent(self) -> str:
        """What estimates use as it is typed to pin it: per cent that pop, or per cent more."""
        used = 100 * (self.known.used if self.is_chance else self.known.used - 1)
        return f"{used:.1f}".removesuffix(".0").replace("-0", "0" if round(used, 1) == 0 else "-0")

    def _words(self, value: float) -> str:
        said = f"{100 * value:.1f} %".replace(".0 %", " %") if self.is_chance else share_words(value, self.unit)
        # A figure and its sign stay on one line of a telephone.
        return said.replace(" %", "\N{NO-BREAK SPACE}%")


@dataclass(frozen=True, slots=True)
class SettingGroup:
    """Settings that belong together on the page."""

    title: str
    sentence: str
    settings: tuple[Setting, ...]


@dataclass(frozen=True, slots=True)
class SettingStory:
    """One setting, and the jobs behind it, the latest first."""

    setting: Setting
    figures: list[WrapUpFigure]


def learning_groups() -> list[SettingGroup]:
    """Every setting jobs have taught, are about to, or that is pinned. Four statements."""
    facts = _Facts.read()
    pinned = [key for key in facts.pins if _KEY.fullmatch(key)]
    hours = [minutes_key(part) for part in LEARNED_PARTS]
    balloons = {balloons_key(one.kind, one.size) for one in facts.seen.lessons.balloons}
    balloons |= {key for key in pinned if key.startswith("balloons-")}
    pops = {pops_key(outdoors, size) for outdoors in (False, True) for size in USUAL_SIZES}
    pops |= {pops_key(one.outdoors, one.size) for one in facts.seen.pops if one.inflated}
    pops |= {key for key in pinned if key.startswith("pops-")}
    groups = (
        ("Hours", "How long a part of the work takes, beside what your rates make of it.", hours),
        ("Balloons", "How many a piece uses, beside its layout. The layout stays: more go along as spares.", balloons),
        ("Pops", "How many of a hundred pop. It decides the spares.", pops),
    )
    found = []
    for title, sentence, keys in groups:
        listed = [setting for key in keys if (setting := facts.setting(key)) is not None]
        if title != "Hours":
            listed.sort(key=lambda setting: (-setting.jobs, len(setting.key), setting.key))
        found.append(SettingGroup(title, sentence, tuple(listed)))
    return found


def setting_story(key: str) -> SettingStory | None:
    """One setting with the jobs behind it; None for a key that names none."""
    setting = _Facts.read().setting(key)
    if setting is None:
        return None
    named = _parts(key)
    figures = WrapUpFigure.objects.select_related("wrap_up__booking__client").order_by("-wrap_up__at", "-pk")
    if named["part"]:
        figures = figures.filter(what=What.MINUTES, part=named["part"])
    elif named["kind"]:
        figures = figures.filter(what=What.BALLOONS, kind=named["kind"], size=int(named["size"] or 0))
    else:
        outdoors = named["place"] == "out"
        figures = figures.filter(what=What.POPS, size=int(named["of"] or 0), wrap_up__outdoors=outdoors)
    return SettingStory(setting, list(figures[:MOST_JOBS]))


def _parts(key: str) -> Mapping[str, str | None]:
    """What a key names; nothing where it is no key."""
    match = _KEY.fullmatch(key)
    return match.groupdict() if match else {}


@dataclass(frozen=True, slots=True)
class _Facts:
    rates: Rates
    seen: Seen
    pins: Mapping[str, Pin]
    jobs_of_pops: Mapping[tuple[bool, int], int]

    @classmethod
    def read(cls) -> "_Facts":
        rates = Rates.objects.current()
        counted = WrapUpLine.objects.filter(item__sort=Item.Sort.LATEX).exclude(
            wrap_up__booking__stage=Booking.Stage.CANCELLED
        )
        rows = counted.values_list("wrap_up__outdoors", "item__size").annotate(jobs=Count("wrap_up", distinct=True))
        return cls(
            rates,
            seen(pace=pace_stamp(rates)),
            {pin.setting: pin for pin in Pin.objects.select_related("by")},
            {(outdoors, size or 0): jobs for outdoors, size, jobs in rows.order_by()},
        )

    def setting(self, key: str) -> Setting | None:
        named, pin, lessons = _parts(key), self.pins.get(key), self.seen.lessons
        if part := named.get("part"):
            if part not in LEARNED_PARTS:
                return None
            known = lessons.minutes_of(part, 60 * self.rates.evidence_hours)
            return Setting(key, PART_NAMES[part], known, known.jobs, False, "as your rates say", pin)
        if kind := named.get("kind"):
            size = int(named["size"] or 0)
            if kind not in KINDS or size not in SIZES:
                return None
            known = lessons.balloons_of(kind, size, self.rates.evidence_balloons)
            return Setting(key, f"{kind_name(kind)}, {size}-inch", known, known.jobs, False, "as the layout says", pin)
        if place := named.get("place"):
            size, outdoors = int(named["of"] or 0), place == "out"
            if size not in SIZES:
                return None
            known = pops_of(
                self.seen.pops,
                size=size,
                outdoors=outdoors,
                expected=material_rules(self.rates).pop_rate(outdoors),
                strength=self.rates.evidence_balloons,
                pinned=None if pin is None else float(pin.value),
            )
            title = f"Pops of {size}-inch {'outdoors' if outdoors else 'indoors'}"
            return Setting(key, title, known, self.jobs_of_pops.get((outdoors, size), 0), True, "", pin)
        return None
