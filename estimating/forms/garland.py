"""What people type about a garland of mixed sizes."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from math import isfinite
from typing import Any, NamedTuple

from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict

from estimating.forms.fields import FOOT, LengthField, is_size, whole_percent
from estimating.forms.mixing import ColourMix, SizeMix, colour_shares, length_words
from estimating.forms.pieces import INCH, Pressed, Start
from estimating.forms.rows import RowsWidget, how_many, with_more_rows
from estimating.kinds import garland
from estimating.kinds.garland.spec import MOST_CLUSTERS, MOST_IN_A_CLUSTER, SKETCHED, Cluster
from estimating.specs import SIZES
from estimating.spines import Spine, length_of
from stock.models import Colour
from studio.form_fields import refusal
from studio.units import System, from_inches, show_length

SHAPES = (("straight", "Straight"), ("swag", "In swags"), ("doorway", "Over and down a doorway"))
TAPERS = (("even", "Even"), ("thick to thin", "Thick to thin"), ("thick in the middle", "Thick in the middle"))
PLACES_ALONG = (
    ("0", "at the left end"),
    ("25", "a quarter along"),
    ("50", "in the middle"),
    ("75", "three quarters along"),
    ("100", "at the right end"),
)
LARGE_SIZES = (16, 18, 24, 30, 36)


class ClustersField(forms.Field):
    """Rows of where, size, how many and colour; rows without a number are left out."""

    widget = RowsWidget("along", "size", "count", "colour", most=MOST_CLUSTERS)

    def clean(self, value: list[dict[str, str]]) -> tuple[Cluster, ...]:
        """Large balloons put in one place each."""
        found = []
        for number, row in enumerate(value, start=1):
            if not row["count"]:
                continue
            along = whole_percent(row["along"])
            if along is None:
                raise refusal(f"the place of cluster {number}", "a whole number from 0 to 100 percent", row["along"])
            if not is_size(row["size"]):
                raise refusal(f"the size of cluster {number}", f"one of {', '.join(map(str, SIZES))}", row["size"])
            count = how_many(f"how many in cluster {number}", row["count"], MOST_IN_A_CLUSTER)
            found.append(Cluster(along, int(row["size"]), count, row["colour"] or None))
        return tuple(found)


class ClusterRow(NamedTuple):
    """A cluster of large balloons, as typed."""

    number: int
    along: str
    size: str
    how_many: str
    colour: str


class GarlandForm(SizeMix, ColourMix):
    """A garland: how long, how wide, along what, and what it is made of."""

    kind = garland.NAME
    has_line = True
    starts = (
        Start("", "Garland", "Mixed sizes along a line: over a doorway, along a beam, in swags.",
              {"length": "7 ft", "width": "16 in", "shape": "swag"}),
        Start("trailing", "Trailing garland", "Thick at one end and trailing off, with clusters of large balloons.",
              {"length": "8 ft", "width": "15 in", "clusters-0-size": "16", "clusters-0-count": "2"}),
    )  # fmt: skip
    fields_of_spec = {
        "length_mm": "length",
        "width_mm": "width",
        "mix": "sizes",
        "colours": "colours",
        "shape": "shape",
        "taper": "taper",
        "trail_mm": "trail",
        "clusters": "clusters",
        "path": "path",
        "doubled": "inside",
    }

    length = LengthField(
        label="Length",
        low=garland.SHORTEST,
        high=garland.LONGEST,
        plain={"imperial": "ft", "metric": "m"},
        error_messages={"required": "Length is missing: say how long the garland is, such as 20 ft or 6 m."},
    )
    width = LengthField(
        label="Finished width",
        low=garland.THINNEST,
        high=garland.WIDEST,
        plain={"imperial": "in", "metric": "cm"},
        error_messages={"required": "Finished width is missing: say how wide it looks, such as 22 in or 55 cm."},
    )
    shape = forms.ChoiceField(label="Shape", choices=SHAPES, widget=forms.RadioSelect)
    taper = forms.ChoiceField(label="Thickness", choices=TAPERS, widget=forms.RadioSelect, required=False)
    trail = LengthField(
        label="Trailing end",
        low=Decimal(0),
        high=200 * FOOT,
        plain={"imperial": "ft", "metric": "m"},
        required=False,
        help_text="The last part that trails off thinly. Empty for none.",
    )
    clusters = ClustersField(label="Clusters of large balloons", required=False)
    path = forms.CharField(label="Sketch", required=False, widget=forms.HiddenInput)

    field_order = (
        "name", "length", "width", "sizes", "colours", "inside", "shape", "taper", "trail", "clusters", "path",
        "extras", "outdoors", "seed",
    )  # fmt: skip

    def __init__(self, data: Mapping[str, Any], **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.is_drawn = bool(data.get("path"))
        if self.is_drawn:
            self.fields["shape"].choices = [*SHAPES, (SKETCHED, "As drawn on the photo")]  # type: ignore[attr-defined]

    def clean_path(self) -> Spine:
        """The path that was drawn, in inches; none where it was not."""
        typed: str = self.cleaned_data["path"]
        if not typed:
            return ()
        try:
            path = tuple((float(x), float(y)) for x, y in json.loads(typed))
        except (TypeError, ValueError):
            path = ()
        if not path or not all(isfinite(value) for point in path for value in point):
            raise ValidationError("The sketch cannot be read: draw it again.")
        return path

    def clean(self) -> dict[str, Any]:
        """A garland as drawn is as long as its path."""
        given = super().clean() or self.cleaned_data
        if given.get("shape") != SKETCHED:
            return given | {"path": ()}
        if given.get("path") and given.get("length") is not None:
            along = from_inches(length_of(given["path"]))
            if abs(given["length"] - along) > INCH:
                said = f"Length is {show_length(along, self.measures)} as it was drawn: draw it anew on the photo"
                raise ValidationError({"length": f"{said}, or choose another shape."})
            given["length"] = along
        return given

    def clean_taper(self) -> str:
        """Even where nothing was chosen."""
        return self.cleaned_data["taper"] or "even"

    def clean_trail(self) -> Decimal:
        """None where nothing was typed."""
        return self.cleaned_data["trail"] or Decimal(0)

    def clean_clusters(self) -> tuple[Cluster, ...]:
        """Clusters in the studio's colours."""
        clusters: tuple[Cluster, ...] = self.cleaned_data["clusters"]
        for number, cluster in enumerate(clusters, start=1):
            if cluster.colour is not None and cluster.colour not in self.palette:
                raise ValidationError(f"Cluster {number} has a colour that is not the studio’s: choose another.")
        return clusters

    def outer_keys(self) -> list[str]:
        """The colours of the mix, and of clusters in a colour of their own."""
        rows = self.fields["clusters"].widget.value_from_datadict(self.data, {}, "clusters")
        return super().outer_keys() + [row["colour"] for row in rows if row["count"] and row["colour"]]

    @property
    def cluster_rows(self) -> list[ClusterRow]:
        """The clusters as typed, with an empty one to fill."""
        rows = self.fields["clusters"].widget.value_from_datadict(self.data, {}, "clusters")
        rows += [{"along": "50", "size": "16", "count": "", "colour": ""}] * max(0, 1 - len(rows))
        return [ClusterRow(n, row["along"], row["size"], row["count"], row["colour"]) for n, row in enumerate(rows)]

    @property
    def places_along(self) -> list[tuple[str, str]]:
        """Where a cluster may be put, with any other place that was kept."""
        known = {key for key, _ in PLACES_ALONG}
        other = sorted({row.along for row in self.cluster_rows} - known - {""})
        return [*PLACES_ALONG, *((along, f"{along} % along") for along in other)]

    @property
    def cluster_sizes(self) -> list[int]:
        """The sizes clusters are made of."""
        asked = {int(row.size) for row in self.cluster_rows if is_size(row.size)}
        return sorted({*LARGE_SIZES, *asked})

    @property
    def can_add_clusters(self) -> bool:
        """Whether there is room for more rows."""
        return len(self.cluster_rows) < MOST_CLUSTERS

    @property
    def is_shaped(self) -> bool:
        """Whether it thins out, trails or has clusters: what most garlands have not."""
        typed = self.data.get
        counted = any(row.how_many for row in self.cluster_rows)
        return typed("taper", "even") not in ("", "even") or bool(typed("trail")) or counted

    @classmethod
    def data_of(cls, name: str, spec: Mapping[str, Any], measures: System) -> dict[str, Any]:
        """With its clusters."""
        data = {"taper": "even", **super().data_of(name, {"taper": "even", **spec}, measures)}
        if spec.get("path"):
            data["path"] = json.dumps(spec["path"])
            data["length"] = show_length(Decimal(spec["length_mm"]), measures)
        for n, (along, size, count, *colour) in enumerate(spec.get("clusters", ())):
            row = {"along": along, "size": size, "count": count, "colour": (colour or [None])[0] or ""}
            data |= {f"clusters-{n}-{column}": str(value) for column, value in row.items()}
        return data

    @classmethod
    def without_lost_colours(cls, data: Mapping[str, Any], known: Iterable[str]) -> tuple[dict[str, Any], int]:
        """Clusters in a colour that is gone share in the garland's."""
        known = set(known)
        kept, lost = super().without_lost_colours(data, known)
        rows = [key for key in kept if key.startswith("clusters-") and key.endswith("-colour")]
        gone = [key for key in rows if kept[key] and kept[key] not in known]
        return kept | dict.fromkeys(gone, ""), lost + len(gone)

    @classmethod
    def first_data(cls, colours: Sequence[Colour], measures: System, start: str = "") -> dict[str, Any]:
        """A garland of the size most are asked for."""
        data = super().first_data(colours, measures, start) | {
            "length": length_words("20 ft", "6 m", measures),
            "width": length_words("22 in", "55 cm", measures),
            "shape": "doorway",
            "taper": "even",
            "sizes-5": "30",
            "sizes-11": "62",
            "sizes-16": "8",
            **colour_shares(colours),
        }
        if start != "trailing":
            return data
        cluster = {"along": "0", "size": "24", "count": "2", "colour": ""}
        return data | {
            "length": length_words("14 ft", "4.2 m", measures),
            "width": length_words("20 in", "50 cm", measures),
            "shape": "swag",
            "taper": "thick to thin",
            "trail": length_words("3 ft", "90 cm", measures),
            **{f"clusters-0-{column}": said for column, said in cluster.items()},
        }

    @classmethod
    def pressed(cls, data: QueryDict) -> Pressed | None:
        """More rows for clusters."""
        if data.get("more") != "clusters":
            return super().pressed(data)
        usual = {"along": "50", "size": "16"}
        return Pressed(with_more_rows(data, "clusters", ClustersField.widget, usual), "clusters")
