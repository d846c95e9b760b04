"""The organic garland: mixed sizes along a line, base quads with fillers in the gaps and accents outside."""

from estimating.kinds.garland.counting import MOST_DRAWN, parts_of, volume_count, whole_counts
from estimating.kinds.garland.laying import lay_out, said
from estimating.kinds.garland.settling import FIRST_STEPS, MORE_STEPS, ROUNDS, TOUCHING
from estimating.kinds.garland.spec import LONGEST, SHORTEST, THINNEST, WIDEST, Cluster, GarlandSpec
from estimating.kinds.garland.taper import TAPERS

__all__ = [
    "FIRST_STEPS",
    "LONGEST",
    "MORE_STEPS",
    "MOST_DRAWN",
    "NAME",
    "ROUNDS",
    "SHORTEST",
    "TAPERS",
    "THINNEST",
    "TITLE",
    "TOUCHING",
    "WIDEST",
    "Cluster",
    "GarlandSpec",
    "lay_out",
    "parts_of",
    "said",
    "volume_count",
    "whole_counts",
]

NAME = "garland"
TITLE = "Garland"
