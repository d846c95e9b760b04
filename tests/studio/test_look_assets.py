"""The files of the look: fonts, style sheet, scripts, base templates."""

import gzip
import itertools
import json
import re
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from stock.colour import contrast_ratio

ROOT = Path(__file__).resolve().parents[2]
STATIC = ROOT / "studio" / "static"
TEMPLATES = ROOT / "templates"
CSS = (STATIC / "css" / "garlandry.css").read_text()
HEADINGS, TEXT = "bricolage-grotesque", "atkinson-hyperlegible-next"


def characters_of(family: str) -> set[int]:
    return {code for path in (STATIC / "fonts").glob(f"{family}-*.woff2") for code in TTFont(path).getBestCmap()}


def colours(block: str) -> dict[str, str]:
    return dict(re.findall(r"--([\w-]+):\s*(#[0-9a-f]{6})\b", block))


# Paper and mail stand alone: they are read where no style sheet of ours can be fetched.
PAGES = [
    path for path in sorted(TEMPLATES.rglob("*.html")) if path.relative_to(TEMPLATES).parts[0] not in ("paper", "mail")
]

LIGHT = colours(CSS[CSS.index("@layer tokens {") : CSS.index("@media (prefers-color-scheme: dark)")])
DARK = LIGHT | colours(CSS[CSS.index("@media (prefers-color-scheme: dark)") : CSS.index("@layer base {")])

TEXT_PAIRS = [
    *itertools.product(["ink", "soft", "plum"], ["paper", "card", "plum-wash", "honey-wash"]),
    *itertools.product(["coral"], ["paper", "card", "coral-wash", "coral-stripe"]),
    *itertools.product(["leaf"], ["paper", "card", "leaf-wash"]),
    *itertools.product(["honey"], ["card", "honey-wash"]),
    ("ink", "coral-wash"),
    ("ink", "leaf-wash"),
    ("soft", "coral-wash"),
    ("on-action", "action"),
    ("on-action", "action-hover"),
    ("on-bar", "bar"),
    ("on-bar-soft", "bar"),
    ("on-bar-button", "bar-button"),
]
EDGE_PAIRS = [
    ("field-edge", "card"),
    ("field-edge", "paper"),
    ("action", "track"),
    ("coral-line", "card"),
    ("plum", "paper"),
]


def test_the_fonts_together_weigh_60_kb_at_most():
    sizes = [path.stat().st_size for path in (STATIC / "fonts").glob("*.woff2")]
    assert len(sizes) == 4
    assert sum(sizes) <= 60 * 1024


@pytest.mark.parametrize("family", [HEADINGS, TEXT])
def test_each_family_has_its_licence_beside_it(family):
    licence = (STATIC / "fonts" / f"{family}-OFL.txt").read_text()
    assert "SIL Open Font License, Version 1.1" in licence
    assert "with Reserved Font Name" not in licence.splitlines()[0]


@pytest.mark.parametrize("family", [HEADINGS, TEXT])
@pytest.mark.parametrize("character", list("½¼¾−–—×€£$·…’‘“”±°0123456789ñéüßŁŠžğőçØåÆ"))
def test_each_family_has_the_characters_a_studio_writes(family, character):
    assert ord(character) in characters_of(family)


@pytest.mark.parametrize("character", list("′″"))
def test_the_heading_face_lends_the_text_face_its_primes(character):
    assert ord(character) in characters_of(HEADINGS)
    assert re.search(r'--text: "Atkinson Hyperlegible Next", "Bricolage Grotesque"', CSS)


@pytest.mark.parametrize("character", list("⅛Δ"))
def test_characters_neither_family_has_are_named_in_the_notes(character):
    assert ord(character) not in characters_of(HEADINGS) | characters_of(TEXT)
    notes = (STATIC / "fonts" / "README.txt").read_text()
    assert f"U+{ord(character):04X}" in notes


@pytest.mark.parametrize("family", [HEADINGS, TEXT])
def test_each_family_keeps_its_kerning_and_tabular_figures(family):
    font = TTFont(STATIC / "fonts" / f"{family}-latin.woff2")
    features = {r.FeatureTag for tag in ("GSUB", "GPOS") for r in font[tag].table.FeatureList.FeatureRecord}
    assert {"kern", "tnum"} <= features


@pytest.mark.parametrize("path", sorted((STATIC / "fonts").glob("*.woff2")), ids=lambda path: path.stem)
def test_every_character_of_a_file_is_in_its_unicode_range(path):
    face = next(face for face in re.findall(r"@font-face \{.*?\}", CSS, re.S) if path.name in face)
    ranges = re.search(r"unicode-range:([^;]+);", face)
    assert ranges is not None
    covered = set()
    for part in ranges[1].split(","):
        low, _, high = part.strip().removeprefix("U+").partition("-")
        covered |= set(range(int(low, 16), int(high or low, 16) + 1))
    # Each file has the spaces too, for the engine that makes PDFs sets a whole run from one of them.
    assert set(TTFont(path).getBestCmap()) - {0x20, 0xA0} <= covered
    assert "font-display: swap" in face


def test_the_style_sheet_weighs_12_kb_packed_at_most():
    assert len(gzip.compress(CSS.encode(), mtime=0)) <= 12 * 1024


def test_the_style_sheet_reaches_for_nothing_outside():
    addresses = re.findall(r"url\(\"?([^\")]+)", CSS)
    assert addresses
    assert [a for a in addresses if not (STATIC / "css" / a).resolve().is_file()] == []
    assert "@import" not in CSS


@pytest.mark.parametrize(
    ("scheme", "pair"),
    [
        pytest.param(scheme, pair, id=f"{name}: {pair[0]} on {pair[1]}")
        for name, scheme in (("light", LIGHT), ("dark", DARK))
        for pair in TEXT_PAIRS
    ],
)
def test_words_can_be_read_on_every_surface_they_stand_on(scheme, pair):
    assert contrast_ratio(scheme[pair[0]], scheme[pair[1]]) >= 4.5


@pytest.mark.parametrize(
    ("scheme", "pair"),
    [
        pytest.param(scheme, pair, id=f"{name}: {pair[0]} on {pair[1]}")
        for name, scheme in (("light", LIGHT), ("dark", DARK))
        for pair in EDGE_PAIRS
    ],
)
def test_edges_that_mean_something_can_be_seen(scheme, pair):
    assert contrast_ratio(scheme[pair[0]], scheme[pair[1]]) >= 3


def test_every_colour_has_its_dark_counterpart():
    dark_block = CSS[CSS.index("@media (prefers-color-scheme: dark)") : CSS.index("@layer base {")]
    assert set(LIGHT) == set(colours(dark_block))


@pytest.mark.parametrize("path", PAGES, ids=lambda path: str(path.relative_to(TEMPLATES)))
def test_no_page_of_the_app_carries_styles_or_scripts_of_its_own(path):
    text = path.read_text()
    assert re.findall(r"\sstyle=|<style|<script(?![^>]*\bsrc=)|\son[a-z]+=\"|javascript:", text) == []


def test_the_scripts_are_small():
    scripts = [
        path
        for name in ("once", "sliders", "share", "unsaved", "unanswered")
        for path in [STATIC / "js" / f"{name}.js"]
    ]
    assert sum(len(gzip.compress(path.read_bytes(), mtime=0)) for path in scripts) <= 5 * 1024


def test_the_manifest_names_the_product_and_icons_that_exist():
    manifest = json.loads((STATIC / "manifest.webmanifest").read_text())
    assert manifest["name"] == "Garlandry"
    assert [icon["src"] for icon in manifest["icons"] if not (STATIC / icon["src"]).is_file()] == []
