"""Paper: what a page of HTML becomes, and what stops it."""

import ast
import datetime as dt
import subprocess
import sys
from pathlib import Path

import pytest

from studio.pdf import Asset, PaperFault, assets_in, pdf_from_html
from studio.press import PRESS
from studio.typesetting import answer
from tests.pages import PAGE, ROOT, make, read

pytestmark = pytest.mark.paper


def fonts_of(reader):
    """Each font's name, and whether the font itself is in the file."""
    fonts = {}
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():
            descriptor = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
            fonts[str(descriptor["/FontName"])] = any(key.startswith("/FontFile") for key in descriptor)
    return fonts


def test_a_page_becomes_one_sheet_of_a4_with_its_words(caplog):
    reader = read(make())
    assert len(reader.pages) == 1
    assert [round(float(x)) for x in reader.pages[0].mediabox] == [0, 0, 595, 842]
    assert "18 balloons, 8½ ft, €240" in reader.pages[0].extract_text()
    assert caplog.records == []


def test_the_title_author_and_moment_are_written_into_it():
    about = read(make()).metadata
    assert (about.title, about.author) == ("Quote 12", "Tern & Tide Balloons")
    assert about.creation_date == about.modification_date == dt.datetime(2026, 3, 14, 9, 30, tzinfo=dt.UTC)


def test_it_is_tagged_for_screen_readers_and_says_its_language():
    catalogue = read(make()).trailer["/Root"]
    assert catalogue["/MarkInfo"]["/Marked"]
    assert catalogue["/Lang"] == "en"
    assert "/StructTreeRoot" in catalogue
    assert b"pdfuaid" in catalogue["/Metadata"].get_object().get_data()


def test_a_picture_keeps_its_description():
    def tags(node):
        yield node
        kids = node.get("/K", [])
        for kid in kids if isinstance(kids, list) else [kids]:
            kid = kid.get_object()
            if isinstance(kid, dict):
                yield from tags(kid)

    root = read(make()).trailer["/Root"]["/StructTreeRoot"].get_object()
    assert "A black disc" in [tag.get("/Alt") for tag in tags(root)]


def test_only_our_own_face_is_in_it_embedded_and_cut_to_what_is_used():
    fonts = fonts_of(read(make()))
    assert fonts
    assert all(fonts.values())
    assert all(name[7:].startswith("+Paper") for name in fonts), fonts
    assert len(make()) < 40_000


@pytest.mark.parametrize(
    ("name", "after"),
    [
        pytest.param("<bdi>אינס</bdi>", True, id="set apart"),
        pytest.param("אינס", False, id="left to the algorithm, the figures are drawn into the name"),
    ],
)
def test_a_name_from_right_to_left_leaves_the_figures_after_it_in_order(name, after):
    begins: dict[str, float] = {}

    def note(text, _cm, tm, *_font):
        begins.setdefault(text.strip()[:3], float(tm[4]))

    read(make(f"<p>For {name}, 555</p>")).pages[0].extract_text(visitor_text=note)
    assert (begins.get("555", 0) > begins["אינ"]) is after, begins


def test_the_same_page_gives_the_same_bytes():
    assert make() == make()


def test_another_identifier_gives_another_paper():
    assert make(identifier="quote 12 version 2") != make()


def test_a_moment_without_its_time_zone_is_refused():
    with pytest.raises(ValueError, match="must know its time zone"):
        pdf_from_html(
            PAGE, stylesheets=[], assets={}, title="", author="", identifier="",
            made_at=dt.datetime(2026, 3, 14),  # noqa: DTZ001  the mistake under test
        )  # fmt: skip


@pytest.mark.parametrize("name", ["../secret", "/etc/passwd", "a b.png", "", ".hidden", "a//b"])
def test_an_asset_with_a_strange_name_is_refused(name):
    with pytest.raises(ValueError, match="An asset's name"):
        make(assets={name: Asset(b"", "image/png")})


@pytest.mark.parametrize(
    ("html", "named"),
    [
        pytest.param('<img src="asset:///gone.svg" alt="x">', "asset:///gone.svg", id="no such picture"),
        pytest.param('<link rel=stylesheet href="asset:///gone.css">', "asset:///gone.css", id="no such sheet"),
        pytest.param('<img src="asset:///../etc/passwd" alt="x">', "etc/passwd", id="a way out of the folder"),
        pytest.param('<img src="asset:///broken.png" alt="x">', "asset:///broken.png", id="not a picture"),
        pytest.param('<img src="asset:///broken.svg" alt="x">', "asset:///broken.svg", id="not a drawing"),
        pytest.param(
            "<style>@font-face { font-family: B; src: url(asset:///broken.png) }</style><p>words",
            "'B' cannot be loaded",
            id="not a font",
        ),
        pytest.param('<img src="asset:///disc.svg">', "no required alt description", id="no description"),
        pytest.param('<a href="#nowhere">see below</a>', "#nowhere", id="a link to nowhere"),
    ],
)
def test_a_fault_in_our_own_paper_stops_it_and_is_named(html, named):
    broken = {"broken.png": Asset(b"no", "image/png"), "broken.svg": Asset(b"<svg", "image/svg+xml")}
    with pytest.raises(PaperFault, match="The PDF was not made") as fault:
        make(html, assets=broken)
    assert named in str(fault.value)
    assert len(fault.value.faults) == 1


def test_only_pictures_fonts_and_sheets_are_taken_from_a_folder(tmp_path):
    for name in ("a.svg", "b.woff2", "LICENSE.txt", "c.py"):
        (tmp_path / name).write_bytes(b"x")
    (tmp_path / "deeper.svg").mkdir()
    assert assets_in(tmp_path) == {"a.svg": Asset(b"x", "image/svg+xml"), "b.woff2": Asset(b"x", "font/woff2")}


def imported_by(tree):
    """The top-level names a module imports, by a statement or by a call of import_module or __import__."""
    names = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            names.append(node.module or "")
        elif isinstance(node, ast.Call) and "import" in ast.unparse(node.func):
            names += [str(given.value) for given in node.args if isinstance(given, ast.Constant)]
    return {name.split(".")[0] for name in names}


@pytest.mark.parametrize(
    "code",
    [
        "import weasyprint",
        "def f():\n    from weasyprint import HTML",
        "import weasyprint.urls as u",
        "import importlib\nimportlib.import_module('weasyprint.css')",
        "__import__('weasyprint')",
    ],
)
def test_every_way_of_importing_the_engine_is_noticed(code):
    assert "weasyprint" in imported_by(ast.parse(code))


def test_no_other_module_touches_the_engine():
    """A call without our fetcher reads files and the network, so nobody else may so much as import it."""
    ours = [ROOT / "studio" / "typesetting.py", Path(__file__)]
    folders = ["studio", "stock", "estimating", "bookings", "tests"]
    modules = [path for folder in folders for path in (ROOT / folder).rglob("*.py") if path not in ours]
    assert len(modules) > 10
    touching = [
        str(path.relative_to(ROOT))
        for path in modules
        if "weasyprint" in imported_by(ast.parse(path.read_text(encoding="utf-8")))
    ]
    assert touching == []


def test_whoever_has_a_pdf_made_never_loads_the_engine():
    code = (
        "import datetime as dt, sys; from studio.pdf import pdf_from_html as make;"
        "pdf = make('<p>x', stylesheets=[], assets={}, title='', author='', identifier='',"
        " made_at=dt.datetime.now(dt.UTC));"
        "print(pdf[:5], 'weasyprint' in sys.modules, 'django' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["b'%PDF-'", "False", "False"]
    assert done.stderr == ""


def test_what_is_set_in_a_program_of_its_own_is_the_same_as_here(monkeypatch):
    apart = make()
    monkeypatch.setattr(PRESS, "ask", lambda head, parts, *, answers: answer(head, parts))
    assert make() == apart
