"""How good the estimates have been, which jobs paid, and what an hour earned by kind, month and how clients came."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Count, F, Q, QuerySet, Sum
from django.db.models.functions import Coalesce, TruncMonth

from bookings.models import JobEarnings, WrapUpFigure
from estimating.hours import PART_NAMES
from estimating.kinds import KINDS
from estimating.lessons import LEARNED_PARTS, share_words
from estimating.ranges import CHANCE

FEW = 10
"""With fewer figures than these, chance alone moves the share by more than is worth saying (rule of thumb)."""

MOST_JOBS, MOST_MONTHS, MOST_GROUPS = 40, 12, 10
UNKNOWN = "not known"
What = WrapUpFigure.What


@dataclass(frozen=True, slots=True)
class Coverage:
    """Of one sort of figure: how many there were, and how many came out within the range that had been said."""

    name: str
    figures: int
    within: int

    @property
    def percent(self) -> int | None:
        """The share within; None where there are none."""
        return round(100 * self.within / self.figures) if self.figures else None

    @property
    def words(self) -> str:
        """“9 of 12, 75 %”; few figures are said to be few."""
        if not self.figures:
            return "none yet"
        share = f"{self.within:,} of {self.figures:,} within the range"
        return share if self.figures < FEW else f"{share}, {self.percent} %"


@dataclass(frozen=True, slots=True)
class Bias:
    """Of one size in a kind of piece, or one part of the work: what came of what was expected, over all jobs."""

    name: str
    jobs: int
    expected: int
    came: int
    is_time: bool = False

    @property
    def words(self) -> str:
        """“8 % more”, “as expected”."""
        return share_words(self.came / self.expected, "as expected") if self.expected else "not expected"


@dataclass(frozen=True, slots=True)
class Group:
    """Some jobs together: how many, the minutes they took, and what was left for those in minor units."""

    name: str
    jobs: int
    minutes: int
    earned_minor: int

    @property
    def hourly_minor(self) -> int:
        """What an hour earned."""
        return round(self.earned_minor * 60 / self.minutes) if self.minutes else 0


@dataclass(frozen=True, slots=True)
class MoneyPicture:
    """What an hour earned. `other_currencies` are jobs left out because they were paid in another."""

    jobs: int
    by_kind: tuple[Group, ...]
    by_month: tuple[Group, ...]
    by_source: tuple[Group, ...]
    other_currencies: int

    @property
    def whole(self) -> Group:
        """All of them together."""
        groups = self.by_kind
        return Group("all", self.jobs, sum(g.minutes for g in groups), sum(g.earned_minor for g in groups))


def coverage() -> list[Coverage]:
    """How often each sort of figure came out within its range, where 80 % is meant. One statement."""
    within = Q(came__gte=F("low"), came__lte=F("high"))
    rows = _told().values("what").annotate(figures=Count("pk"), hit=Count("pk", filter=within))
    found = {row["what"]: row for row in rows}
    names = {
        What.JOB_MINUTES: "Hours of a job",
        What.MINUTES: "Hours of a part of the work",
        What.JOB_BALLOONS: "Balloons of a job",
        What.BALLOONS: "Balloons of a kind and size",
        What.POPS: "Pops of a size",
    }
    return [Coverage(name, found[what]["figures"], found[what]["hit"]) for what, name in names.items() if what in found]


def coverage_sentence(found: Iterable[Coverage]) -> str:
    """What it says of all of them."""
    found = list(found)
    figures, within = sum(one.figures for one in found), sum(one.within for one in found)
    meant = f"{CHANCE:.0%}".replace("%", " %")
    if not figures:
        return "No job has been wrapped up with figures yet."
    if figures < FEW:
        return f"{within:,} of {figures:,} figures came out within their range: too few to judge the estimates by."
    percent = round(100 * within / figures)
    if abs(percent - 100 * CHANCE) <= 5:
        verdict = "as they should"
    else:
        verdict = "the ranges are too narrow" if percent < 100 * CHANCE else "the ranges are wider than they need be"
    return f"{percent} % of {figures:,} figures came out within their range, where {meant} is meant: {verdict}."


def biases() -> list[Bias]:
    """What came of what was expected, by part of the work and by kind and size. One statement."""
    rows = _told().filter(Q(what=What.BALLOONS) | Q(what=What.MINUTES, part__in=LEARNED_PARTS))
    summed = rows.values("what", "kind", "size", "part").annotate(
        jobs=Count("pk"), was_expected=Sum("expected"), came_to=Sum("came")
    )
    found = []
    for row in summed.order_by("-what", "kind", "size", "part"):
        is_time = row["what"] == What.MINUTES
        name = PART_NAMES[row["part"]] if is_time else f"{kind_name(row['kind'])}, {row['size']}-inch"
        found.append(Bias(name, row["jobs"], row["was_expected"], row["came_to"], is_time))
    return found


def paid_jobs() -> list[JobEarnings]:
    """The jobs wrapped up last, with what they earned."""
    jobs = JobEarnings.objects.select_related("wrap_up__booking__client")
    return list(jobs.order_by("-wrap_up__at", "-pk")[:MOST_JOBS])


def money_picture(currency: str, *, today: date) -> MoneyPicture:
    """What an hour earned by the kind that made most of a job, by month, and by how the client found the studio.

    Of jobs agreed in that currency; months of the last year. Five statements.
    """
    earned = JobEarnings.objects.filter(currency=currency, minutes__gt=0)
    day = Coalesce("wrap_up__booking__event_on", "wrap_up__booking__needed_on")
    begin = date(today.year - 1, today.month, 1)
    months = _grouped(earned.annotate(day=day).filter(day__gt=begin), month=TruncMonth("day"))
    by_month = sorted(months, key=lambda row: row["month"])[-MOST_MONTHS:]
    sources = _grouped(earned, source=F("wrap_up__booking__client__found_us"))
    return MoneyPicture(
        jobs=earned.count(),
        by_kind=_best_first((kind_name(row["of"]), row) for row in _grouped(earned, of=F("kind"))),
        by_month=tuple(_group(f"{row['month']:%B %Y}", row) for row in by_month),
        by_source=_best_first((row["source"] or UNKNOWN, row) for row in sources)[:MOST_GROUPS],
        other_currencies=JobEarnings.objects.exclude(currency=currency).count(),
    )


def kind_name(kind: str) -> str:
    """What a kind of piece is called; one that is no more by its own name."""
    return KINDS[kind].title if kind in KINDS else kind or UNKNOWN


def _told() -> QuerySet[WrapUpFigure]:
    """Figures that can be judged: hours only where somebody kept the time."""
    return WrapUpFigure.objects.exclude(what__in=(What.MINUTES, What.JOB_MINUTES), wrap_up__timed=False)


def _grouped(earned: QuerySet[JobEarnings], **by: Any) -> list[dict[str, Any]]:
    left = Sum(F("price_minor") - F("materials_minor") - F("other_minor"))
    rows = earned.values(**by).annotate(jobs=Count("pk"), took=Sum("minutes"), left=left).order_by(*by)
    return [dict(row) for row in rows]


def _group(name: str, row: dict[str, Any]) -> Group:
    return Group(name, row["jobs"], row["took"], row["left"])


def _best_first(rows: Iterable[tuple[str, dict[str, Any]]]) -> tuple[Group, ...]:
    groups = [_group(name, row) for name, row in rows]
    return tuple(sorted(groups, key=lambda group: (-group.hourly_minor, group.name)))
