"""Which way the code points: down."""

import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest
from django.apps import apps

ROOT = Path(__file__).resolve().parent.parent
LOWEST_FIRST = ["studio", "stock", "estimating", "bookings"]

# What Django, the machine or the command line calls: nothing of ours imports these, save what starts the program.
STARTS_THE_PROGRAM = {"apps", "checks", "forms", "logs", "management", "migrations", "serving", "settings", "sqlite"}
STARTS_THE_PROGRAM |= {"database", "sqlite_backend", "static_files", "uploads", "write_once", "wsgi"}


def contracts() -> list[dict[str, Any]]:
    """The import contracts of pyproject.toml."""
    found: list[dict[str, Any]] = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["importlinter"][
        "contracts"
    ]
    return found


def modules_of(package: str) -> set[str]:
    """The modules and packages right inside one of ours."""
    inside = (path for path in (ROOT / package).iterdir() if path.suffix == ".py" or (path / "__init__.py").exists())
    return {path.stem for path in inside} - {"__init__"}


def test_imports_keep_to_the_contracts():
    """Runs the linter: a contract that is broken is named in its answer, with the import that breaks it."""
    command = [str(Path(sys.executable).parent / "lint-imports"), "--no-cache"]
    answer = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=120)

    assert answer.returncode == 0, answer.stdout
    assert f"Contracts: {len(contracts())} kept, 0 broken" in answer.stdout


def test_every_module_of_the_studio_has_a_place_in_the_contract():
    """`studio` is both floor and roof, so a module that is in no layer would be free to import anything."""
    layers = " : ".join(contracts()[0]["layers"]).replace("(", "").replace(")", "").split(" : ")
    placed = {name.removeprefix("studio.") for name in layers if name.startswith("studio.")}

    assert modules_of("studio") - STARTS_THE_PROGRAM - placed == set()


def test_every_plain_module_is_held_to_plain_python():
    """A module below `models` is a rule, and rules import no Django."""
    layers = contracts()[1]["layers"]
    below_models = " : ".join(layers[layers.index("models") + 1 :]).replace("(", "").replace(")", "").split(" : ")
    plain = {f"{app}.{name}" for app in LOWEST_FIRST[1:] for name in modules_of(app) & set(below_models)}

    assert plain - set(contracts()[2]["source_modules"]) == set()


def keys_between_models() -> list[Any]:
    """Every foreign key of ours that names a model of ours."""
    return [
        pytest.param(model, field, id=f"{model._meta.label}.{field.name}")
        for model in apps.get_models()
        if model._meta.app_label in LOWEST_FIRST
        for field in model._meta.get_fields()
        if field.is_relation and field.concrete and field.related_model is not None
        if field.related_model._meta.app_label in LOWEST_FIRST
    ]


@pytest.mark.parametrize(("model", "field"), keys_between_models())
def test_foreign_keys_point_down(model, field):
    """A key named by string is invisible to the import linter."""
    rank = LOWEST_FIRST.index
    assert rank(field.related_model._meta.app_label) <= rank(model._meta.app_label)


@pytest.mark.parametrize(("model", "field"), keys_between_models())
def test_a_key_between_apps_leaves_no_way_back_up(model, field):
    """With no reverse name a lower app cannot reach up by accident."""
    if field.related_model._meta.app_label == model._meta.app_label:
        assert field.related_model is not None
    else:
        assert field.remote_field.related_name == "+"
