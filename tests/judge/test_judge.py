"""The stage as a whole."""

from __future__ import annotations

import ast
from pathlib import Path

from sitegen import judge as stage
from sitegen.judge import RULES

from .builders import (
    ended,
    everyone,
    findings,
    lost,
    named,
    picked,
    run,
    seen,
    setup,
    some_of,
    sown,
    up,
    visits,
)

QUIET = run(
    sown(),
    up(6, 11, 12),
    lost(20, named("P4")),
    seen("first_flower", 45, some_of(2, 3)),
    picked(70, 40, everyone()),
    ended(71),
    entries=visits(0, 6, 20, 45, 70, 71),
)


def test_sound_run() -> None:
    """A sound run gives no finding."""
    assert findings(QUIET) == ()


def test_empty_run() -> None:
    """A run without rows breaks no rule but the one about its log."""
    assert [f.code for f in findings(run(head=setup(plants=(), tubs=())))] == ["no-log"]


def test_file_order() -> None:
    """Findings of several rules come in file order."""
    made = run(ended(60), picked(70, 20), seen("first_flower", 80, some_of(9, 9)), head=setup(answer=None))

    lines = [f.source.line for f in findings(made)]
    assert lines == sorted(lines)
    assert len(lines) > 3


def test_rules_have_names_of_their_own() -> None:
    """No two rules share a name or a check."""
    assert len({rule.name for rule in RULES}) == len({rule.check for rule in RULES}) == len(RULES)


def test_stage_imports_only_core() -> None:
    """The stage imports the core and its own folder, and no other stage."""
    sources = Path(stage.__file__).parent.glob("*.py")
    trees = [ast.parse(source.read_text(encoding="utf-8")) for source in sources]
    modules = {node.module for tree in trees for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    ours = {module for module in modules if module and module.startswith("sitegen")}

    assert all(module.startswith(("sitegen.core", "sitegen.judge")) for module in ours)
