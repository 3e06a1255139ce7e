"""The structure that the design asks for: imports point one way, and nothing heavy is paid for before it is used."""

from __future__ import annotations

import ast
import pickle
import shutil
import subprocess
import sys
from collections import Counter
from datetime import date
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

from sitegen.core.findings.finding import Findings
from sitegen.core.language.catalogue import tr, using_catalogue
from sitegen.core.records.codec import codec_for
from sitegen.core.records.setup import Journal
from sitegen.ingest.catalogues import read_catalogue
from sitegen.pipeline.facts import facts_of
from sitegen.render.data import package_of
from sitegen.render.pages.summary import RunSummary, summary_of

PACKAGE = Path(__file__).parent.parent / "sitegen"
STAGES = {"filing", "ingest", "judge", "measure", "notes", "photos", "plot", "render", "write"}
HEAVY = {"pandas", "altair", "PIL", "vl_convert", "rich", "starlette", "uvicorn", "watchfiles"}


def _imports(path: Path) -> set[str]:
    """The modules of this package that a file imports, wherever in it."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
    return {name for name in found if name.startswith("sitegen.")}


def _folders(path: Path) -> set[str]:
    return {name.split(".")[1] for name in _imports(path)}


FILES = sorted(PACKAGE.rglob("*.py"))


@pytest.mark.parametrize("path", FILES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_imports_point_one_way(path: Path) -> None:
    """A stage imports `core` and itself; `core` imports only `core`; only `pipeline` and `app` import stages."""
    home = path.relative_to(PACKAGE).parts[0]
    used = _folders(path)
    if home == "core":
        assert used <= {"core"}
    elif home in STAGES:
        assert used <= {"core", home}
    else:
        assert home in {
            "app",
            "pipeline",
            "words",
            "__init__.py",
            "__main__.py",
            "cache_folder.py",
            "memo.py",
            "temporary.py",
        }


def _module(path: Path) -> str:
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def test_no_modules_import_each_other() -> None:
    """Not in a circle of any length, not inside functions, nor for types alone; folders only hand names on."""
    paths = {_module(path): path for path in FILES if path.name != "__init__.py"}
    imports = {module: _imports(path) & paths.keys() - {module} for module, path in paths.items()}
    assert sum(map(len, imports.values())) > 1000

    TopologicalSorter(imports).prepare()
    with pytest.raises(CycleError):
        TopologicalSorter(
            {**imports, "sitegen.core.findings.source": {"sitegen.core.findings.finding"}}
        ).prepare()


def test_the_rule_of_imports_can_fail(tmp_path: Path) -> None:
    """An import inside a function is seen too."""
    path = tmp_path / "bad.py"
    path.write_text("def f():\n    from sitegen.judge import order\n")

    assert _folders(path) == {"judge"}


def _modules_after(code: str) -> set[str]:
    script = f"{code}\nimport sys; print(' '.join(sys.modules))"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    return {name.split(".")[0] for name in done.stdout.split()}


@pytest.mark.parametrize("command", ["", "begin", "log", "validate", "facts", "write", "live", "schema"])
def test_help_imports_nothing_heavy(command: str) -> None:
    """`--help` pays for none of the heavy libraries."""
    arguments = [*command.split(), "--help"]
    code = f"from sitegen.app.main import status_of\nassert status_of({arguments!r}) == 0"

    assert not _modules_after(code) & HEAVY


def _validated(root: Path) -> set[str]:
    return _modules_after(
        f"from sitegen.app.main import status_of\nstatus_of(['validate', {str(root)!r}, '--line'])"
    )


def test_validate_imports_nothing_heavy(tmp_path: Path) -> None:
    """Validating draws nothing and encodes nothing; what fills and reads texts is loaded only where there is a text."""
    texts = {"jinja2", "markdown_it"}
    root = tmp_path / "journal"
    shutil.copytree(PACKAGE.parent / "tests" / "journals" / "format", root)
    assert not _validated(root) & (HEAVY | texts)

    (root / "about.md").write_text("# About\n\nA [page](index.html).\n", "utf-8")

    assert _validated(root) & (HEAVY | texts) == texts


def test_modules_name_their_public_parts_by_their_names_alone() -> None:
    """A name without an underscore is public: only a folder's `__init__` lists what it exports."""
    listing = [str(p) for p in FILES if p.name != "__init__.py" and "__all__" in p.read_text("utf-8")]

    assert listing == []


WITHOUT_WORDS = [
    p for p in FILES if p.is_relative_to(PACKAGE / "measure") or p.is_relative_to(PACKAGE / "core" / "facts")
]


@pytest.mark.parametrize("path", WITHOUT_WORDS, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_facts_hold_no_words(path: Path) -> None:
    """What computes facts, and what they are made of, imports nothing of the site's language."""
    assert not [name for name in _imports(path) if name.startswith("sitegen.core.language")]


def _measured() -> tuple[object, ...]:
    """The facts of some runs, pickled, their summaries as they are kept, and their Data Packages."""
    wanted = ("emberfrill-hot-loft", "oak-beside-harbour", "radish-edge-of-tray")
    files, all_facts, _ = facts_of(PACKAGE.parent / "content_demo", wanted, date(2026, 11, 28))
    assert files is not None
    codec, found = codec_for(RunSummary), []
    for facts in all_facts:
        package = [(page.address, page.content) for page in package_of(facts, files.journal).pages]
        found += [pickle.dumps(facts), codec.encode(summary_of(facts)), package]
    return tuple(found)


def test_facts_are_the_same_in_every_language() -> None:
    """Facts, summaries in the store and Data Packages are the same bytes in English and in German."""
    journal = Journal("Test", language="de")
    german = read_catalogue(Path(__file__).parent, journal, Findings())
    english = _measured()

    assert len(english) == 3 * 3
    with using_catalogue(german):
        assert tr("not weighed") == "nicht gewogen"
        assert _measured() == english


def test_no_folder_is_a_heap() -> None:
    """A folder holds at most 14 modules beside its `__init__`: a reader takes them in at a glance."""
    modules = Counter(path.parent for path in FILES if path.name != "__init__.py")

    assert {str(folder): count for folder, count in modules.items() if count > 14} == {}
