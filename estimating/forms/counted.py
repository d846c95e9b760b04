"""What people type about a hand-counted piece."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from math import ceil
from typing import Any

from estimating.forms.fields import FOOT, LengthField
from estimating.forms.lines import Counted, lines_typed
from estimating.forms.pieces import Start
from estimating.kinds import CountedSpec, counted
from stock.models import Colour
from studio.form_fields import WholeNumberField
from studio.units import System, show_length


class CountedForm(Counted):
    """A hand-counted piece: how many of each balloon, and the work as the decorator knows it."""

    kind = counted.NAME
    has_chance = False
    starts = (Start("", "Something else", "Counted by hand: you say how many of each, and the minutes."),)
    fields_of_spec = {
        "lines": "lines",
        "minutes": "minutes",
        "line_ft": "line",
        "attachments": "attachments",
        "doubled": "inside",
    }

    minutes = WholeNumberField(
        label="Minutes of work",
        least=0,
        most=60_000,
        required=False,
        help_text="One person’s, to make and hang it. Empty works it out from your rates.",
    )
    line = LengthField(
        label="Line",
        low=Decimal(0),
        high=2000 * FOOT,
        plain={"imperial": "ft", "metric": "m"},
        required=False,
        help_text="Fishing line or rope, if any.",
    )
    attachments = WholeNumberField(
        label="Attachment points", least=0, most=1000, required=False, help_text="Where it is tied or hung."
    )

    field_order = ("name", "lines", "inside", "minutes", "line", "attachments", "extras", "outdoors", "seed")

    @property
    def spec(self) -> CountedSpec:
        """The piece as counted; line is rounded up to whole feet."""
        given = self.spec_values()
        given |= {name: given[name] or 0 for name in ("minutes", "attachments")}
        given["line_ft"] = ceil((self.cleaned_data["line"] or Decimal(0)) / FOOT)
        return CountedSpec(**given)

    @classmethod
    def data_of(cls, name: str, spec: Mapping[str, Any], measures: System) -> dict[str, Any]:
        """A kept counted piece as the form would have sent it."""
        length = spec["line_ft"] * FOOT
        return {
            **super().data_of(name, {key: said for key, said in spec.items() if key != "line_ft"}, measures),
            **lines_typed(spec["lines"]),
            "minutes": str(spec["minutes"] or ""),
            "line": spec.get("typed", {}).get("line") or (show_length(length, measures) if length else ""),
            "attachments": str(spec["attachments"] or ""),
        }

    @classmethod
    def first_data(cls, colours: Sequence[Colour], measures: System, start: str = "") -> dict[str, Any]:
        """A piece to start from: one line to change."""
        lines = lines_typed([(colour.key, 11, 6) for colour in colours[:2]])
        return super().first_data(colours, measures, start) | {"name": "Balloons by the count"} | lines
