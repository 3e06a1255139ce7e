"""The structure that the design asks for: imports point one way, and nothing heavy is paid for before it is used."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "sitegen"
STAGES = {"ingest", "judge", "measure", "notes", "photos", "plot", "render", "write"}
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
        assert home in {"app", "pipeline", "words", "__init__.py", "__main__.py", "memo.py"}


def test_the_rule_of_imports_can_fail(tmp_path: Path) -> None:
    """An import inside a function is seen too."""
    path = tmp_path / "bad.py"
    path.write_text("def f():\n    from sitegen.judge import order\n")

    assert _folders(path) == {"judge"}


def _modules_after(code: str) -> set[str]:
    script = f"{code}\nimport sys; print(' '.join(sys.modules))"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    return {name.split(".")[0] for name in done.stdout.split()}


@pytest.mark.parametrize("command", ["", "begin", "validate", "facts", "write", "live", "schema"])
def test_help_imports_nothing_heavy(command: str) -> None:
    """`--help` pays for none of the heavy libraries."""
    arguments = [*command.split(), "--help"]
    code = f"from sitegen.app.main import status_of\nassert status_of({arguments!r}) == 0"

    assert not _modules_after(code) & HEAVY


def test_validate_imports_nothing_heavy() -> None:
    """Validating a journal draws and renders nothing, so it does not load what draws and renders."""
    journal = Path(__file__).parent / "journals" / "format"
    code = f"from sitegen.app.main import status_of\nstatus_of(['validate', {str(journal)!r}, '--line'])"

    assert not _modules_after(code) & (HEAVY | {"jinja2", "markdown_it"})


def test_modules_name_their_public_parts_by_their_names_alone() -> None:
    """A name without an underscore is public: only a folder's `__init__` lists what it exports."""
    listing = [str(p) for p in FILES if p.name != "__init__.py" and "__all__" in p.read_text("utf-8")]

    assert listing == []
