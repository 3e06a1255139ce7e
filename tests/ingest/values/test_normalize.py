"""Values as they are spoken are offered in the words of the format, and in the journal's own units."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from sitegen.core.findings.examples import US, in_units
from sitegen.core.findings.finding import Findings
from sitegen.core.format import TABLES
from sitegen.core.values.units import Dimension, Units
from sitegen.ingest.values.normalize import out_of, with_digits, with_flags
from sitegen.ingest.values.quantities import parse_quantity
from sitegen.pipeline import validate
from tests.cases import Case
from tests.ingest.builders import EXPERIMENT, GROUPS, HEAD, found, read, scalar

D = Dimension


@pytest.mark.parametrize(
    ("text", "dimension", "units", "mend"),
    [
        ("abuot 15 cm", D.LENGTH, "metric", "write `about 15 cm`"),
        ("~15", D.LENGTH, "us", "write `about 15 in` or `about 15 ft`"),
        ("-3 cm", D.LENGTH, "metric", "write `3 cm`"),
        ("84", D.MASS, "us", "write `84 oz`, `84 lb`, `84 g` or `84 kg`"),
        ("tall", D.LENGTH, "us", "write a value such as `4 in`, or `unmeasured`"),
        ("lots", D.MASS, "us", "write a value such as `3 oz`, or `unweighed`"),
        ("9 oz", D.LENGTH, "us", "write a length, such as `4 in`"),
    ],
)
def test_mend(text: str, dimension: Dimension, units: Units, mend: str) -> None:
    """A quantity as it is spoken gets one mend, which the reader would take."""
    findings = Findings(units=units)

    assert parse_quantity(scalar(text), dimension, findings, "key") is None
    assert [finding.mend for finding in findings] == [mend]


def test_words() -> None:
    """Numbers, flags and shares in words are rewritten, and other text is left as it is."""
    assert with_digits("two and a half cups") == "2 1/2 cups"
    assert with_flags("more than 5 g") == "at least 5 g"
    assert [out_of(text) for text in ("2 out of 5", "8/10", "two of the six", "2 g")] == [
        "2 of 5",
        "8 of 10",
        "2 of 6",
        "",
    ]


@pytest.mark.parametrize(
    ("entry", "finding"),
    [
        (
            "lost: both",
            (
                "9:11: not-a-selection: `both` does not say which plants "
                "(write how many, such as `lost: 2 of 4`, or `lost: some`)"
            ),
        ),
        (
            "light: 14",
            "9:12: wrong-type: `light` wants a mapping, or `off` (write `light: {hours: 14 h}`, or `off`)",
        ),
        (
            "from_now: {feed: {syrup: 2 ml, every: top-up}}",
            (
                "9:36: unknown-key: `every` is not a product; how often something is given stands under `at` "
                "(write `at: every top-up` under `from_now: {feed: …}`)"
            ),
        ),
    ],
)
def test_entry(entry: str, finding: str, tmp_path: Path) -> None:
    """What people write for the words of the format is offered in these."""
    assert found(tmp_path, f"  - day: 3\n    {entry}\n") == [finding]


def test_a_verdict_in_other_words(tmp_path: Path) -> None:
    """`yes` for a verdict is `again`."""
    assert found(tmp_path, "  - day: 3\n    note: x\n", head=f"{HEAD}answer: {{verdict: yes}}\n") == [
        "7:19: unknown-choice: `verdict` cannot be `yes` (write `again`)"
    ]


def test_a_group_names_its_plants(tmp_path: Path) -> None:
    """A group of so many plants is refused where it stands, not where it is used."""
    head = GROUPS.replace("front: P1-P2", "front: 2 of 4")

    assert found(tmp_path, "  - day: 3\n    note: x\n", head=head) == [
        (
            "7:17: not-a-selection: `2 of 4` does not say which plants; `front` wants them by name "
            "(write their names, such as `P1-P4` or `[P1, P4]`)"
        )
    ]


def test_not_yet_of_some_plants(tmp_path: Path) -> None:
    """`none` beside a plant or group says that it had not reached a stage at that visit."""
    run, findings = read(
        tmp_path, "  - day: 9\n    milestone: {rosette: {P1: all, back: none}}\n", head=GROUPS
    )

    assert findings == []
    assert run is not None
    assert [(row.name, row.which.ids, row.reached) for row in run.rows.milestones] == [
        ("rosette", ("P1",), True),
        ("rosette", ("P3", "P4"), False),
    ]


def test_every_example_has_its_counterpart() -> None:
    """Whatever the tables of the format offer in litres, grams or centimetres is offered in US units as well."""
    examples = {field.example for table in TABLES.values() for field in table.fields if field.dimension}
    metric = {
        text
        for text in examples
        if set(text.replace(",", " ").replace("}", " ").split()) & {"g", "kg", "L", "cm", "C"}
    }

    assert metric <= set(US)
    assert in_units("about 9 cm", "us") == "about 4 in"


def test_other_units_are_offered_at_once(tmp_path: Path) -> None:
    """An experiment that was read before is offered other examples as soon as the journal shows other units."""
    case = Case(
        "", "", ((EXPERIMENT, f"{HEAD}log:\n  - {{day: 0, sow: some, height: tall}}\n".encode()),), ""
    )
    root = case.write(tmp_path)
    mends = []
    for units in ("metric", "us"):
        (root / "journal.yaml").write_text(f"format: 1\ntitle: Bench\nunits: {units}\n", encoding="utf-8")
        mends += [finding.mend for finding in validate(root, dt.date(2025, 3, 2)).findings]

    assert mends == [
        "write a value such as `9 cm`, or `unmeasured`",
        "write a value such as `4 in`, or `unmeasured`",
    ]


def test_no_plants(tmp_path: Path) -> None:
    """An empty list of plants is said once, and no run is read without a word."""
    head = HEAD.replace("plants: 4", "plants: []")

    assert found(tmp_path, "  - day: 3\n    note: x\n", head=head) == [
        "6:9: count-of-plants: `plants` names no plant (write how many plants the run had, or their names)"
    ]
