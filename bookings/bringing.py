"""What goes along to a job besides balloons and kit: pump, tape, wipes, by rules of piece and site."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

ALWAYS, OUTDOORS, INDOORS, HUNG, ABOVE, HELIUM = "always", "outdoors", "indoors", "hung", "above", "helium"
KIND = "kind:"
MOST_RULES, LONGEST_THING = 80, 60


@dataclass(frozen=True, slots=True)
class Rule:
    """A thing that goes along, and when: always, outdoors, indoors, where something hangs, where it hangs above
    `above_mm`, with helium, or with a kind of piece (`kind:garland`)."""

    thing: str
    when: str = ALWAYS
    above_mm: Decimal | None = None

    def to_json(self) -> dict[str, Any]:
        """As it is kept."""
        return {
            "thing": self.thing,
            "when": self.when,
            "above_mm": None if self.above_mm is None else str(self.above_mm),
        }

    @classmethod
    def from_json(cls, kept: dict[str, Any]) -> Rule:
        """As it was kept."""
        above = kept.get("above_mm")
        return cls(kept["thing"], kept["when"], None if above is None else Decimal(above))


@dataclass(frozen=True, slots=True)
class Going:
    """What the rules ask of a job: the kinds of its pieces, where they stand, whether they hang and how high."""

    kinds: frozenset[str]
    outdoors: bool
    indoors: bool
    hangs: bool
    hang_height_mm: Decimal | None
    helium: bool


USUAL = (
    Rule("Pump"),
    Rule("Extension lead"),
    Rule("Sizer"),
    Rule("Spare 260s for ties"),
    Rule("Scissors"),
    Rule("Tape"),
    Rule("Cloths"),
    Rule("Bin bags"),
    Rule("First-aid kit"),
    Rule("Alcohol wipes", HUNG),
    Rule("Scraper", HUNG),
    Rule("Line", HUNG),
    Rule("Hooks", HUNG),
    Rule("Ladder", ABOVE, Decimal("1828.8")),
    Rule("Ballast", OUTDOORS),
    Rule("Wind gauge", OUTDOORS),
    Rule("Ground stakes", OUTDOORS),
    Rule("Regulator and inflator", HELIUM),
    Rule("Weights", HELIUM),
    Rule("Cutter for letters", KIND + "lettered"),
)
"""What the trade takes along (common practice, no source). A ladder where something hangs above 6 ft."""


def goes_along(rule: Rule, going: Going) -> bool:
    """Whether a rule's thing goes along to a job."""
    if rule.when.startswith(KIND):
        return rule.when.removeprefix(KIND) in going.kinds
    if rule.when == ABOVE:
        return going.hang_height_mm is not None and going.hang_height_mm > (rule.above_mm or 0)
    return {
        ALWAYS: True,
        OUTDOORS: going.outdoors,
        INDOORS: going.indoors,
        HUNG: going.hangs,
        HELIUM: going.helium,
    }.get(rule.when, False)


def things_for(rules: Iterable[Rule], going: Going) -> list[str]:
    """What goes along, each once, in the order of the rules."""
    found: dict[str, str] = {}
    for rule in rules:
        if goes_along(rule, going):
            found.setdefault(rule.thing.casefold(), rule.thing)
    return list(found.values())
