"""The versions that CI installs, and the licences of what every user installs.

In: pyproject.toml, `.ci/constraints.txt`, what the installed distributions say of themselves.
"""

from __future__ import annotations

import re
import tomllib
from importlib.metadata import Distribution, distribution
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[2]
CONSTRAINTS = ROOT / ".ci" / "constraints.txt"

# Permissive licences by their SPDX identifiers: what they ask for is that their text stays with the library.
ALLOWED = {"Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "MIT", "MIT-CMU", "PSF-2.0"}
# What distributions wrote before they gave an SPDX expression.
CLASSIFIERS = {
    "License :: OSI Approved :: BSD License": "BSD-3-Clause",
    "License :: OSI Approved :: MIT License": "MIT",
}
# By itself it is BSD-3-Clause; its wheels hold libheif, a shared library under the LGPL. Only who wants HEIC installs it.
WITH_SHARED_LIBRARY = {"pi-heif": ("BSD-3-Clause", "LGPL-3.0-only")}
LGPL = "License :: OSI Approved :: GNU Lesser General Public License v3 (LGPLv3)"


def _project() -> dict[str, list[Requirement]]:
    """The requirements of pyproject.toml, by group."""
    content = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    groups = {
        "build": content["build-system"]["requires"],
        "run": content["project"]["dependencies"],
        **content["project"]["optional-dependencies"],
    }
    return {name: [Requirement(text) for text in texts] for name, texts in groups.items()}


def _constraints() -> dict[str, str]:
    """The version of each distribution that CI installs."""
    lines = CONSTRAINTS.read_text("utf-8").splitlines()
    return dict(line.split("==") for line in lines if not line.startswith("#"))


def test_every_requirement_has_a_version_within_its_bounds() -> None:
    """CI installs what pyproject.toml allows, and leaves none of it to the day."""
    versions = _constraints()
    wrong = [
        f"{group}: {requirement} is {versions.get(canonicalize_name(requirement.name))}"
        for group, requirements in _project().items()
        for requirement in requirements
        if not requirement.specifier.contains(versions.get(canonicalize_name(requirement.name), "0"))
        or canonicalize_name(requirement.name) not in versions
    ]

    assert wrong == []


def test_constraints_are_exact_versions_in_order() -> None:
    """One distribution a line, by its canonical name, so that a change of the file shows what changed."""
    lines = [line for line in CONSTRAINTS.read_text("utf-8").splitlines() if not line.startswith("#")]

    assert [
        line for line in lines if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*==[0-9][0-9a-z.]*", line)
    ] == []
    assert lines == sorted(set(lines), key=lambda line: line.partition("==")[0])


def _installed(groups: tuple[str, ...]) -> dict[str, Distribution]:
    """Everything that these groups need, whatever the depth."""
    found: dict[str, Distribution] = {}
    todo = [requirement for group in groups for requirement in _project()[group]]
    while todo:
        requirement = todo.pop()
        name = canonicalize_name(requirement.name)
        if name in found:
            continue
        found[name] = distribution(name)
        deeper = map(Requirement, found[name].requires or ())
        extras = requirement.extras or {""}
        todo += [
            each
            for each in deeper
            if each.marker is None or any(each.marker.evaluate({"extra": extra}) for extra in extras)
        ]
    return found


def _licences(library: Distribution) -> set[str]:
    """What a distribution says of its licence: an SPDX expression, else classifiers, else its first words."""
    about = library.metadata
    if expression := about.get("License-Expression"):
        return set(re.split(r" (?:OR|AND) ", expression))
    classifiers = [text for text in about.get_all("Classifier") or () if text.startswith("License ::")]
    if classifiers:
        return {CLASSIFIERS.get(text, text) for text in classifiers}
    return {(about.get("License") or "no licence").splitlines()[0]}


def test_every_library_is_under_a_permissive_licence() -> None:
    """Of all that is installed with sitegen, no licence is unknown or asks for more than its text."""
    libraries = _installed(("run",))
    unknown = {name: said for name, each in libraries.items() if (said := _licences(each)) - ALLOWED}

    assert unknown == {}
    assert {"altair", "narwhals", "rpds-py"} <= set(libraries)  # of the first, second and third depth


def test_the_library_for_heic_is_the_one_exception() -> None:
    """Its classifier names the licence of the shared library inside; nothing else comes with it."""
    more = set(_installed(("run", "heic"))) - set(_installed(("run",)))

    assert more == set(WITH_SHARED_LIBRARY)
    assert _licences(distribution("pi-heif")) == {LGPL}
    assert distribution("pi-heif").metadata.get("License") == WITH_SHARED_LIBRARY["pi-heif"][0]
