"""What is wrong with a piece as asked for, and the checks that the specs of all kinds share."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass, fields
from decimal import Decimal, InvalidOperation
from typing import Any, ClassVar, Self

from studio.refusals import FieldRuleError

SIZES = (3, 5, 6, 9, 10, 11, 12, 14, 16, 17, 18, 24, 30, 36)
"""Nominal sizes of round balloons a piece may use, in inches (common practice)."""

INFLATED: dict[int, float] = {
    3: 2.75,  # As the 5-inch: stopped just short of its size.
    5: 4.75,  # What the trade's "12 a foot" implies for a packed garland.
    6: 5.5,
    9: 7.125,  # What "8 a foot" implies.
    10: 8.5,
    11: 9.5,  # What "6 a foot" implies; decorators use an 11-inch at 8 to 11.
    12: 10.5,
    14: 13.0,
    16: 14.0,  # Held back two inches so that it lasts.
    17: 15.0,
    18: 16.0,
    24: 22.0,
    30: 28.0,
    36: 34.0,
}
"""Inflated diameter of each nominal size in inches, where the studio has set none. Common practice."""

MOST_BALLOONS = 3000


class SpecError(FieldRuleError):
    """One thing asked for that cannot be made."""


class SpecErrors(ValueError):
    """Everything wrong with a spec at once; iterating gives each SpecError."""

    def __init__(self, errors: Sequence[SpecError]) -> None:
        super().__init__(tuple(errors))
        self.errors = tuple(errors)

    def __iter__(self) -> Iterator[SpecError]:
        return iter(self.errors)

    def __len__(self) -> int:
        return len(self.errors)

    def __str__(self) -> str:
        return "; ".join(str(error) for error in self.errors)


@dataclass(frozen=True, slots=True)
class OwnFigures:
    """Figures the decorator gave by hand, None where they are to be worked out.

    `line_ft` is whole feet of line, `attachments` points it hangs from, `minutes` one person's work to make
    and hang it.
    """

    line_ft: int | None = None
    attachments: int | None = None
    minutes: int | None = None


@dataclass(frozen=True, slots=True)
class Spec:
    """What the specs of all kinds share: how they are kept, and that everything about a piece is worked out.

    `LEFT_OUT` names the fields that are not kept while they are as usual.
    """

    LEFT_OUT: ClassVar[frozenset[str]] = frozenset()

    def own_figures(self) -> OwnFigures:
        """What the decorator gave by hand: nothing, unless a kind says otherwise."""
        return OwnFigures()

    def to_json(self) -> dict[str, Any]:
        """A dictionary for a JSON field; exact figures as text so that they stay exact."""
        usual = {field.name: field.default for field in fields(self) if field.name in self.LEFT_OUT}
        return {
            name: str(value) if isinstance(value, Decimal) else _rows(value, list)
            for name, value in asdict(self).items()
            if name not in usual or value != usual[name]
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Self:
        """The spec that `to_json` wrote; raises SpecErrors as the constructor does."""
        kept = {field.name: field.type for field in fields(cls) if field.name in data}
        return cls(
            **{
                name: read_decimal(name, data[name])
                if "Decimal" in str(said) and data[name] is not None
                else _rows(data[name], tuple)
                for name, said in kept.items()
            }
        )


def _rows(value: Any, row: type[list[Any]] | type[tuple[Any, ...]]) -> Any:
    """Rows of a field as JSON has them or as a spec does: lists in a list, or tuples in a tuple."""
    if not isinstance(value, list | tuple):
        return value
    return row(row(each) for each in value)


def check_whole(field: str, value: object, low: int, high: int) -> list[SpecError]:
    """Is it a whole number from low to high? A list of what is wrong."""
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        return [SpecError(field, f"must be a whole number from {low} to {high}", value)]
    return []


def check_size(field: str, size: object) -> list[SpecError]:
    """Is it a nominal size that balloons come in?"""
    if isinstance(size, bool) or size not in SIZES:
        return [SpecError(field, f"must be one of {', '.join(map(str, SIZES))}", size)]
    return []


def check_colour(field: str, colour: object) -> list[SpecError]:
    """Is it a key for a colour: some text?"""
    if not isinstance(colour, str) or not colour:
        return [SpecError(field, "must be the key of a colour", repr(colour))]
    return []


def check_true_or_false(field: str, value: object) -> list[SpecError]:
    """Is it a plain yes or no?"""
    if not isinstance(value, bool):
        return [SpecError(field, "must be true or false", value)]
    return []


def check_millimetres(field: str, value: object, low: Decimal, high: Decimal, said: str) -> list[SpecError]:
    """Is it an exact length within its limits? `said` gives the limits in words."""
    if not isinstance(value, Decimal) or not value.is_finite() or not low <= value <= high:
        return [SpecError(field, f"must be {said}", f"{value} mm")]
    return []


def check_shares(
    field: str,
    shares: Sequence[tuple[object, object]],
    check_key: Callable[[str, object], list[SpecError]],
    most: int,
) -> list[SpecError]:
    """Are these at most so many different things, each with whole percent of at least 1, together 100?"""
    if not 1 <= len(shares) <= most:
        return [SpecError(field, f"must name from 1 to {most}", len(shares))]
    errors = [error for key, _ in shares for error in check_key(field, key)]
    if len({key for key, _ in shares}) < len(shares):
        errors.append(SpecError(field, "must name each only once", ", ".join(str(key) for key, _ in shares)))
    errors += [error for _, percent in shares for error in check_whole(field, percent, 1, 100)]
    if not errors and (total := sum(p for _, p in shares if isinstance(p, int))) != 100:
        errors.append(SpecError(field, "must add up to 100 percent", f"{total} percent"))
    return errors


def check_colours_in_turn(field: str, colours: Sequence[tuple[object, object]]) -> list[SpecError]:
    """Are these from 1 to 12 colours, each with how many of it come together before the next?"""
    errors = [error for key, _ in colours for error in check_colour(field, key)]
    errors += [error for _, count in colours for error in check_whole(field, count, 1, 100)]
    if not 1 <= len(colours) <= 12:
        errors.append(SpecError(field, "must name from 1 to 12", len(colours)))
    return errors


def check_each_once(field: str, keys: Sequence[tuple[str, int]]) -> list[SpecError]:
    """Is each colour and size there only once? The first that is not is named."""
    twice = next((key for key in keys if keys.count(key) > 1), None)
    if twice is None:
        return []
    return [SpecError(field, "must name each colour and size only once", f"{twice[0]} {twice[1]}-inch")]


def check_doubled(field: str, doubled: Sequence[tuple[object, object]], colours: Sequence[object]) -> list[SpecError]:
    """Is each outer colour one of the piece's, named once, with the key of an inner colour?"""
    errors = [error for pair in doubled for key in pair for error in check_colour(field, key)]
    outers = [outer for outer, _ in doubled]
    if len(set(outers)) < len(outers):
        errors.append(SpecError(field, "must name each outer colour only once", ", ".join(map(str, outers))))
    if strange := [outer for outer in outers if outer not in colours]:
        errors.append(SpecError(field, "must double colours of the piece", ", ".join(map(str, strange))))
    return errors


def check_extras(field: str, extras: Sequence[tuple[object, object]]) -> list[SpecError]:
    """Is each of these the key of an item, named once, with how many of it?"""
    errors = [
        SpecError(field, "must be the key of an item", repr(key))
        for key, _ in extras
        if not isinstance(key, str) or not key.isdecimal()
    ]
    if len({key for key, _ in extras}) < len(extras):
        errors.append(SpecError(field, "must name each item only once", ", ".join(str(key) for key, _ in extras)))
    return errors + [error for _, quantity in extras for error in check_whole(field, quantity, 1, 1000)]


def read_decimal(field: str, value: object) -> Decimal:
    """A length as kept in JSON, as text; raises SpecErrors where it is no number."""
    try:
        if not isinstance(value, str | int):
            raise InvalidOperation
        return Decimal(value)
    except InvalidOperation:
        raise SpecErrors([SpecError(field, "must be a number of millimetres", repr(value))]) from None


def check_one_of(field: str, value: object, choices: Sequence[str]) -> list[SpecError]:
    """Is it one of a few words?"""
    if value not in choices:
        return [SpecError(field, f"must be one of {', '.join(choices)}", value)]
    return []
