"""The mutation test finds what tests leave unnoticed, and names it in the same way where lines have moved."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.mutation.equivalent import declared, outdated
from tests.mutation.mutants import Source, code_lines, sample

ROOT = Path(__file__).parents[2]
MODULE = '''\
"""Doubles and limits."""

from typing import cast

__all__ = ["doubled", "limited"]

Number = dict[str, 3]


def doubled(number: "1 + 1") -> int:
    """Twice."""
    assert number < 100
    return cast(int, number * 2)


def limited(number: int) -> int:
    """At most 9."""
    if number > 9:
        return 9
    return number
'''
TESTS = """\
import subprocess
import sys

from tiny.sums.numbers import limited


def test_doubled() -> None:
    code = "from tiny.sums.numbers import doubled; print(doubled(3))"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True).stdout == b"6\\n"


def test_limited() -> None:
    assert limited(12) == 9
"""


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A package of one module, whose tests know nothing of numbers that are not limited."""
    for name, text in (("tiny/sums/numbers.py", MODULE), ("tests/sums/test_numbers.py", TESTS)):
        (tmp_path / name).parent.mkdir(parents=True)
        (tmp_path / name).write_text(text, "utf-8")
    return tmp_path


def run(project: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """What the command says of the package."""
    command = [sys.executable, "-m", "tests.mutation", "sums", "--package", "tiny", "--root", str(project)]
    environment = os.environ | {"PYTHONPATH": str(ROOT), "XDG_CACHE_HOME": str(project / "cache")}
    return subprocess.run(
        [*command, "--sample", "99", *arguments],
        env=environment,
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.full
def test_what_tests_leave_unnoticed_is_found(project: Path) -> None:
    """Survivors are named, the others counted, and a change is seen by processes that a test starts."""
    declaration = "tiny/sums/numbers.py limited\n- if number > 9:\n+ if number >= 9:\n= 9 limited to 9 is 9\n"
    (project / "equivalent.txt").write_text(declaration, "utf-8")
    done = run(project, "--equivalent", str(project / "equivalent.txt"), "--at-least", "0.9")

    assert sorted(re.findall(r"- (.*)\n    \+ (.*)", done.stdout)) == [
        ("if number > 9:", "if True:"),
        ("if number > 9:", "if number > 10:"),
        ("return number", "return None"),
    ]
    table = [line.split() for line in done.stdout.splitlines() if line.startswith(("folder", "sums", "all"))]
    assert table == [
        ["folder", "killed", "timeout", "survived", "equivalent", "score"],
        ["sums", "6", "0", "3", "1", "0.667"],
        ["all", "6", "0", "3", "1", "0.667"],
    ]
    assert done.returncode == 1
    assert (project / "tiny/sums/numbers.py").read_text("utf-8") == MODULE
    assert run(project, "--sample", "1", "--at-least", "0").returncode == 0


@pytest.mark.full
def test_tests_that_fail_anyway(project: Path) -> None:
    """Where tests fail without any change, nothing is tried."""
    with (project / "tests/sums/test_numbers.py").open("a") as file:
        file.write("\n\ndef test_wrong() -> None:\n    assert limited(1) == 2\n")
    done = run(project)

    assert done.returncode == 1
    assert done.stderr.startswith("the tests of sums fail without any change (status 1):\n")
    assert not done.stdout


@pytest.mark.full
def test_an_endless_loop_counts_as_noticed(project: Path) -> None:
    """A test that hangs is ended, and the mutant is counted apart from those that make a test fail."""
    text = "def counted(number):\n    while number != 3:\n        number += 1\n    return number\n"
    (project / "tiny/sums/numbers.py").write_text(text, "utf-8")
    tests = "from tiny.sums.numbers import counted\n\n\ndef test_counted():\n    assert counted(2) == 3\n"
    (project / "tests/sums/test_numbers.py").write_text(tests, "utf-8")
    done = run(project, "--grace", "3")

    assert "sums                   4           3           0           0       1.000\n" in done.stdout


def test_a_name_stays_where_lines_move() -> None:
    """Other lines before it, and equal lines in other functions, change no mutant's identity."""
    moved = Source("numbers.py", "LIMIT = 4\n\n\n" + MODULE)
    before = {mutant.identity for mutant in Source("numbers.py", MODULE).mutants()}

    assert before < {mutant.identity for mutant in moved.mutants()}


def test_equal_lines_are_told_apart() -> None:
    """The second of equal lines in a function has a number."""
    text = "def f(a, b):\n    if a:\n        b += 1\n    else:\n        b += 1\n    return b\n"
    names = [m.identity[1] for m in Source("f.py", text).mutants() if m.after == "b -= 1"]

    assert names == ["f", "f#2"]


def test_what_has_no_meaning_is_left_alone() -> None:
    """Annotations, types, strings, imports and assertions give no mutant."""
    changed = {mutant.before for mutant in Source("numbers.py", MODULE).mutants()}

    assert changed == {"return cast(int, number * 2)", "if number > 9:", "return 9", "return number"}


def test_the_sample_is_the_same_for_a_seed() -> None:
    """A file has its share by its lines of code, and another file changes nothing in it."""
    one, two = (
        Source("one.py", MODULE),
        Source("two.py", MODULE.replace("return 9", "return (\n        9\n    )")),
    )
    drawn = [mutant.identity for mutant in sample([one, two], 9, 1)]

    assert (code_lines(one.text), code_lines(two.text)) == (10, 12)
    assert [file for file, *_ in drawn] == ["one.py"] * 4 + ["two.py"] * 5
    assert [mutant.identity for mutant in sample([one], 4, 1)] == drawn[:4]
    assert [mutant.identity for mutant in sample([one, two], 9, 2)] != drawn


def test_declarations_that_fit_nothing(project: Path) -> None:
    """A declaration whose code is gone is given back."""
    text = "tiny/sums/numbers.py limited\n- {}\n+ return None\n= why\n"
    (project / "known.txt").write_text(text.format("return 9") + "\n" + text.format("return 8"), "utf-8")

    assert [d.identity[2] for d in outdated(declared(project / "known.txt"), project)] == ["return 8"]


def test_declarations_are_few(tmp_path: Path) -> None:
    """More than 15 are refused."""
    path = tmp_path / "known.txt"
    path.write_text("f.py f\n- a\n+ b\n= why\n\n" * 16, "utf-8")
    with pytest.raises(ValueError, match="16 mutants are declared equivalent; at most 15 may be"):
        declared(path)


@pytest.mark.full
def test_the_declarations_of_the_project_fit_its_code() -> None:
    """A mutant that is declared equivalent is one of the changes that are tried."""
    here = Path(__file__).parent

    assert list(outdated(declared(here / "equivalent.txt"), here.parents[1])) == []
