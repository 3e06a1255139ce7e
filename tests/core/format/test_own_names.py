"""The names of a journal in the schemas of its files: offered to who writes, and refusing nothing that is read."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from sitegen.core.format.own_names import OwnNames, spelled
from sitegen.core.format.schema import FILES, schema
from sitegen.pipeline.own_names import names_of
from tests.conftest import DEMO

NAMES, IDS = names_of(DEMO)


class _Plain(yaml.SafeLoader):
    """Reads scalars as editors do (YAML 1.2, the core schema): dates, `12:30` and `off` are texts."""


_CORE = {
    "tag:yaml.org,2002:bool": re.compile("^(?:true|True|TRUE|false|False|FALSE)$"),
    "tag:yaml.org,2002:int": re.compile("^[-+]?[0-9]+$"),
    "tag:yaml.org,2002:float": re.compile(r"^[-+]?[0-9]*\.[0-9]+$"),
}
_Plain.yaml_implicit_resolvers = {
    sign: [(tag, _CORE[tag]) for tag, _ in found if tag in _CORE]
    for sign, found in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def _errors(file: Path, names: OwnNames) -> list[str]:
    content = yaml.load(file.read_text("utf-8"), Loader=_Plain)  # noqa: S506 - a safe loader
    found = Draft202012Validator(schema(file.name, names)).iter_errors(content)
    return [f"{'/'.join(map(str, error.path))}: {error.message}" for error in found]


@pytest.mark.parametrize("name", sorted(set(FILES) - {"experiment.yaml"}))
def test_files_of_the_demo_fit(name: str) -> None:
    """The other files of the demo fit the schemas with the demo's names."""
    files = list(DEMO.rglob(name))

    assert files
    assert [error for file in files for error in _errors(file, NAMES)] == []


@pytest.mark.parametrize("experiment", IDS)
def test_experiments_of_the_demo_fit(experiment: str) -> None:
    """An experiment of the demo fits the schema without names, with the journal's, and with its own."""
    file = next(DEMO.glob(f"seasons/*/{experiment}/experiment.yaml"))

    assert [_errors(file, names) for names in (OwnNames(), NAMES, names_of(DEMO, experiment)[0])] == [
        [],
        [],
        [],
    ]


def _experiment(**changed: Any) -> dict[str, Any]:
    setup = {"format": 1, "title": "Leaf", "crop": "lettuce", "start": "2026-03-01", "plants": 2}
    return setup | changed


@pytest.mark.parametrize(
    ("changed", "valid"),
    [
        ({}, True),
        ({"crop": "Lettuce"}, True),
        ({"crop": "lettice"}, False),
        ({"system": "loft-tub"}, True),
        ({"system": ["Loft tub", "loft tub"]}, True),
        ({"system": "left-tub"}, False),
        ({"light": {"lamp": "bar"}}, True),
        ({"light": {"lamp": "bat"}}, False),
        ({"log": [{"day": 1, "milestone": {"First true leaf": "all", "rosette": "P1"}}]}, True),
        ({"log": [{"day": 1, "milestone": {"first_flour": "all"}}]}, False),
        ({"log": [{"day": 1, "feed": {"leaf-mix": "2 ml", "LEAF MIX": "2 ml"}}]}, True),
        ({"log": [{"day": 1, "transplant": ["P1", "p2"]}, {"day": 2, "transplant": "P1-P3"}]}, True),
    ],
)
def test_names_are_known_in_any_spelling(changed: dict[str, Any], valid: bool) -> None:
    """An id or a name in either case and with spaces is known; another word is not."""
    names = OwnNames(
        crops={"lettuce": "Lettuce"},
        systems={"loft-tub": "Loft tub"},
        lamps={"bar": "Plain bar"},
        products={"leaf-mix": "Leaf mix"},
        plants={"P1": "", "P2": ""},
    )

    assert Draft202012Validator(schema("experiment.yaml", names)).is_valid(_experiment(**changed)) is valid


def test_names_are_offered() -> None:
    """An editor is offered ids first, plants and groups where they can stand, products as keys."""
    found = schema(
        "experiment.yaml",
        OwnNames(
            lamps={"bar": "Plain bar"}, plants={"P1": ""}, groups={"pair": "P1"}, products={"mix": "Mix"}
        ),
    )["$defs"]

    assert found["light"]["properties"]["lamp"]["anyOf"][0] == {"enum": ["bar"]}
    assert found["entry"]["properties"]["transplant"]["anyOf"][0] == {
        "enum": ["P1", "pair", "all", "none", "some"]
    }
    assert found["entry"]["properties"]["feed"]["properties"] == {"mix": {"description": "Mix"}}
    assert found["entry"]["properties"]["height"]["properties"] == {"P1": {}, "pair": {"description": "P1"}}


def test_a_pattern_holds_what_its_syntax_is_made_of() -> None:
    """Signs of the pattern's own syntax in a name stand for themselves."""
    pattern = re.compile(spelled(["Mix (A+B) 1.5", "grün"]))

    assert [bool(pattern.search(text)) for text in ("mix (a+b) 1.5", "mix (aab) 1x5", " GRÜN ")] == [
        True,
        False,
        True,
    ]
    assert json.loads(json.dumps(pattern.pattern)) == pattern.pattern
