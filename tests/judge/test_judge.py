"""The stage as a whole."""

from __future__ import annotations

import ast
import re
from datetime import date
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from sitegen import judge as stage
from sitegen.core.findings.codes import CODES
from sitegen.core.records.files import PhotoFile
from sitegen.core.records.rows import Deed, Which
from sitegen.core.values.day import Start
from sitegen.core.values.quantity import counted, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.judge import RULES, judge, judge_recap
from tests.judge.builders import (
    TODAY,
    Row,
    done,
    ended,
    everyone,
    findings,
    height,
    lost,
    named,
    none,
    picked,
    read,
    run,
    seen,
    setup,
    some_of,
    sown,
    tallied,
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
    assert [f.code for f in findings(run(head=setup(plants=(), tubs=(), spans=(), start=Start())))] == [
        "no-log"
    ]


def test_file_order() -> None:
    """Findings of several rules come in file order."""
    made = run(ended(60), picked(70, 20), seen("first_flower", 80, some_of(9, 9)), head=setup(answer=None))

    lines = [f.source.line for f in findings(made)]
    assert lines == sorted(lines)
    assert len(lines) > 3


def test_each_rule_once() -> None:
    """No rule stands in the table twice."""
    assert len(set(RULES)) == len(RULES)


def test_stage_imports_only_core() -> None:
    """The stage imports the core and its own folder, and no other stage."""
    sources = Path(stage.__file__).parent.rglob("*.py")
    trees = [ast.parse(source.read_text(encoding="utf-8")) for source in sources]
    modules = {node.module for tree in trees for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    ours = {module for module in modules if module and module.startswith("sitegen")}

    assert all(module.startswith(("sitegen.core", "sitegen.judge")) for module in ours)


def test_every_code_has_its_text_in_a_test() -> None:
    """Each code that the stage makes stands in the table, and its whole text in one of these tests."""
    stage_text = "".join(
        path.read_text(encoding="utf-8") for path in Path(stage.__file__).parent.rglob("*.py")
    )
    tests = "".join(path.read_text(encoding="utf-8") for path in Path(__file__).parent.rglob("test_*.py"))
    made = set(re.findall(r'Finding\(\s*"([a-z-]+)"', stage_text))

    assert made <= set(CODES)
    assert {code for code in made if f"[{code}]: " not in tests} == set()


DAYS = st.integers(-5, 130)
WHICH = st.sampled_from(
    [everyone(), named("P1"), named("P2", "P3"), none(), some_of(1, 4), some_of(5), Which(word="some")]
)
AMOUNTS = st.one_of(
    st.none(),
    st.integers(0, 40).map(counted),
    st.floats(0, 1e5).map(lambda value: exactly(value, Dimension.MASS, 1)),
    st.sampled_from(list(Dimension)).map(unknown),
)
EVENTS = st.builds(
    lambda deed, when, which, amount, each: done(deed, when, which, amount=amount, each=each, tub="tub"),
    st.sampled_from(list(Deed)),
    DAYS,
    st.one_of(st.none(), WHICH),
    AMOUNTS,
    st.booleans(),
)
STAGES = st.builds(
    lambda name, when, which, reached: seen(name, when, which, reached=reached),
    st.sampled_from(["seed_leaves", "first_flower", "ripe", "not_a_stage"]),
    DAYS,
    WHICH,
    st.booleans(),
)
PICKS = st.builds(picked, DAYS, st.floats(0, 1e6), WHICH)
HEIGHTS = st.builds(lambda when, cm: height(when, cm, "P1", "P2"), DAYS, st.floats(0, 2000))


@given(st.lists(st.one_of(EVENTS, STAGES, PICKS, HEIGHTS), max_size=25))
def test_any_rows(rows: list[Row]) -> None:
    """Whatever the rows are, the stage returns whole findings, the same ones each time."""
    found = findings(run(*rows))

    assert all(finding.message and finding.mend and finding.code in CODES for finding in found)
    assert findings(run(*rows)) == found


def test_values_are_said_as_they_were_written() -> None:
    """Values and their bounds are in inches, pounds and degrees Fahrenheit where they were written so."""
    made = run(
        sown(),
        inches(20, 9),
        inches(27, 7),
        inches(30, 540),
        height(32, 1200, "P2"),
        read("air_temperature", 31, exactly((130 - 32) * 5 / 9, Dimension.TEMPERATURE, 5 / 9)),
        picked(40, 567, named("P1")),
        tallied(50, exactly(12 * OUNCE, Dimension.MASS, OUNCE)),
    )

    assert [finding.message for finding in judge(made, TODAY)] == [
        "`P1` got shorter: 9 in on day 20, 7 in on day 27",
        "height 540 in of `P1` on day 30 cannot be: it lies between 0 and 32.8 ft",
        "air temperature 130 °F on day 31 is above what is usual, 41-104 °F",
        "height 1200 cm of `P2` on day 32 cannot be: it lies between 0 and 1000 cm",
        "12 oz had been picked on day 50, but the picks up to then come to 1 lb 4 oz",
    ]


OUNCE = 28.349523125  # grams; the international avoirdupois ounce, NIST Handbook 44, appendix C


def inches(when: int, number: float) -> Row:
    """A height of P1 as a ruler in inches gives it."""
    return read("height", when, exactly(number * 2.54, Dimension.LENGTH, 2.54), named("P1"))


def test_findings_of_a_recap() -> None:
    """Findings of the recap are those of the whole run that lie in its file, in the order of its lines."""
    blocks = "```chart\nheight\n```\n```chart\nheight\n```\n```strip\nzzz\n```\n```photo\n```\n"
    made = run(
        sown(),
        done(Deed.NOTE, 5, what="bob@farm.co"),
        recap=f"Write to ann@farm.co.\n{blocks}",
        photo_files=(PhotoFile("a.jpg", located=True),),
        head=setup(title="eve@farm.co"),
    )

    found = judge_recap(made, TODAY)
    assert [(f.code, f.source.line) for f in found] == [
        ("personal-detail", 1),
        ("placed-twice", 6),
        ("unknown-plant", 9),
        ("bad-block", 11),
    ]
    assert found == tuple(f for f in judge(made, TODAY) if f.source.file == "recap.md")
    assert len([f for f in judge(made, TODAY) if f.code == "personal-detail"]) == 3


def test_today_is_handed_on() -> None:
    """The date given decides which days are in the future."""
    made = run(sown(), entries=visits(0, 20))

    assert [f.code for f in judge(made, date(2025, 3, 20))] == ["in-the-future"]
    assert judge(made, date(2025, 3, 21)) == ()
