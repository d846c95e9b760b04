"""The rules every table shares: its columns, and what may stand in a cell."""

import re
import unicodedata
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from stock.colour import ColourError, parse_swatch
from stock.models import Colour
from stock.queries.dry_run.found import ColourKey, DryRun, Fault
from studio.money import AmountError, parse, show, to_minor

_WITH_COMMAS = ("on_hand", "pack_size")
_SHOWN = 40
_LONGEST_CELL = 500
_FIGURES = re.compile(r"[0-9]{1,12}(\.[0-9]{1,6})?")


class SheetCheck:
    """One pass over the rows of a table. A table of its own says what its columns are and what a row means."""

    columns: Sequence[str]
    """What the columns may be called."""
    longest: Mapping[str, int]
    """How long a text may be, in letters."""
    bounds: Mapping[str, tuple[int, int]]
    """The least and the most of a whole number."""
    of_many_lines: frozenset[str] = frozenset()
    """Which cells may hold several lines."""

    def __init__(self, found: DryRun) -> None:
        self.found = found
        self.number, self.faulty = 1, False
        self.cells: dict[str, str] = {}

    def check_row(self) -> None:
        """Check the row that is in `cells`, and plan what it says where it is sound."""
        raise NotImplementedError

    def missing_columns(self, names: set[str]) -> str:
        """What the first row must name and does not, as a rule; nothing where all is there."""
        raise NotImplementedError

    def learn(self) -> None:
        """Read what the studio has already, once the columns are known to be sound."""
        raise NotImplementedError

    def check(self, rows: Sequence[Sequence[str]]) -> None:
        """Check every row under the names of the columns in the first."""
        named = self._named(rows[0] if rows else [])
        if self.found.faults:
            return
        self.learn()
        for number, row in enumerate(rows[1:], start=2):
            if not any(cell.strip() for cell in row):
                continue
            self.number, self.faulty = number, False
            self.cells = {name: row[n].strip() if n < len(row) else "" for n, name in named.items()}
            for n, cell in enumerate(row):
                if n not in named and cell.strip():
                    self.fault(f"column {n + 1}", "A cell must stand under a column's name", cell)
            self._check_texts()
            self.check_row()

    def fault(self, column: str, rule: str, value: str) -> None:
        """Write down what is wrong."""
        self.faulty = True
        self.found.faults.append(Fault(self.number, column, rule, _shown(value)))

    def number_in(self, name: str) -> int | None:
        """A whole number within its bounds, None where the cell is empty or wrong."""
        cell = self.cells.get(name, "").replace(",", "") if name in _WITH_COMMAS else self.cells.get(name, "")
        if not cell:
            return None
        least, most = self.bounds[name]
        number = int(cell) if cell.isascii() and cell.isdigit() and len(cell) < 12 else -1
        if not least <= number <= most:
            self.fault(name, f"It must be a whole number from {least} to {most:,}", self.cells[name])
            return None
        return number

    def amount_in(self, name: str, currency: str, most: int) -> int | None:
        """An amount in minor units, None where the cell is empty or wrong."""
        cell = self.cells.get(name, "")
        if not cell:
            return None
        try:
            # Bare figures, as a program writes them, need nobody's habits: reading ten thousand is then no wait.
            minor = to_minor(Decimal(cell), currency) if _FIGURES.fullmatch(cell) else parse(cell, currency)
        except AmountError as error:
            self.fault(name, error.rule.rstrip("."), cell)
            return None
        if not 0 <= minor <= most:
            self.fault(name, f"It must be an amount from {show(0, currency)} to {show(most, currency)}", cell)
            return None
        return minor

    def choice(self, name: str, allowed: Sequence[str], usual: str) -> str:
        """One of a list, the usual one where nothing says."""
        cell = self.cells.get(name, "").casefold() or usual
        if cell not in allowed:
            self.fault(name, f"It must be {in_a_list(allowed)}", self.cells[name])
            return usual
        return cell

    def swatch_in(self, name: str) -> str | None:
        """A swatch as #rrggbb, None where the cell is empty or wrong."""
        cell = self.cells.get(name, "")
        if not cell:
            return None
        try:
            return parse_swatch(cell)
        except ColourError:
            self.fault(name, "It must be a # and six of 0-9 and a-f, such as #1b1b1f", cell)
            return None

    def colour_key(self) -> ColourKey:
        """Which colour the row names, with its finish and its shape."""
        finish = self.choice("finish", Colour.Finish.values, Colour.Finish.STANDARD.value)
        form = self.choice("shape", Colour.Form.values, Colour.Form.ROUND.value)
        if form != Colour.Form.ROUND and finish != Colour.Finish.FOIL:
            self.fault("shape", "Hearts and stars are foil; other finishes are round", f"{form}, {finish}")
        return key_of_colour(self.cells.get("colour", ""), finish, form)

    def is_new_to(self, seen: dict[Any, int], key: object, what: str, name: str) -> bool:
        """Whether no row above says the same; else that is a fault."""
        if key in seen:
            self.fault("all", f"Every {what} stands in one row; this one is in row {seen[key]:,} already", name)
            return False
        seen[key] = self.number
        return True

    def _named(self, heads: Sequence[str]) -> dict[int, str]:
        """Which column is where."""
        named: dict[int, str] = {}
        for n, head in enumerate(heads):
            name = column_name(head)
            if not name:
                continue
            if name not in self.columns:
                self.fault(f"column {n + 1}", f"A column must be {in_a_list(self.columns)}", head)
            elif name in named.values():
                self.fault(name, "A column must be there once", head)
            else:
                named[n] = name
        missing = self.missing_columns(set(named.values()))
        if missing and not self.found.faults:
            self.found.faults.append(Fault(1, "all", missing, "neither"))
        return named

    def _check_texts(self) -> None:
        """No text is too long for its place or holds what cannot be printed."""
        for name, cell in self.cells.items():
            most = self.longest.get(name, _LONGEST_CELL)
            if len(cell) > most:
                self.fault(name, f"It must be at most {most} characters long", f"{len(cell)}: {cell}")
            elif any(
                unicodedata.category(letter) in ("Cc", "Cs")
                for letter in cell
                if not (letter in "\r\n" and name in self.of_many_lines)
            ):
                self.fault(name, "It must hold no control characters", cell)


def column_name(head: str) -> str:
    """A column's name as people write it, as ours: “Keep back” and “keep-back” are keep_back."""
    return "_".join(head.strip().casefold().replace("-", " ").replace("_", " ").split())


def key_of_colour(name: str, finish: str, form: str) -> ColourKey:
    """What tells a colour from all others."""
    return (name.casefold(), finish, form)


def in_a_list(words: Sequence[str]) -> str:
    """ "a, b or c"."""
    return f"{', '.join(words[:-1])} or {words[-1]}"


def _shown(value: str) -> str:
    text = " ".join("".join(letter if letter.isprintable() else " " for letter in value).split())
    return f"“{text[:_SHOWN]}{'…' if len(text) > _SHOWN else ''}”" if text else "nothing"
