"""What a meter's scale makes of ppm, and what light, lux and the time of a lamp are read as."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from sitegen.core.records.rows import Reading
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.ingest import read_experiment, read_journal
from tests.cases import Case
from tests.ingest.builders import EXPERIMENT, HEAD, TUBS, amount, found, rows, said

GEAR = """\
systems:
  crate: {name: Crate, spots: 4, reservoir: 8 L}
  bowl: {name: Bowl, spots: 2}
lamps:
  strip: {name: Strip, lux_factor: {value: 66, source: its maker}}
"""
PEN, STICK, OLD = (
    "  pen: {name: EC pen, scale: 500}\n",
    "  stick: {name: Stick, scale: 700}\n",
    "  old: {name: Old}\n",
)


def read(root: Path, entry: str, *meters: str) -> tuple[list[tuple[str, int | None]], list[str]]:
    """The readings of an entry with their scales, and findings, where gear.yaml has these meters."""
    gear = GEAR + ("meters:\n" + "".join(meters) if meters else "")
    files = (("gear.yaml", gear.encode()), (EXPERIMENT, f"{HEAD}log:\n  - {{day: 9, {entry}}}\n".encode()))
    Case("", "", files, "").write(root)
    journal_files, findings = read_journal(root)
    assert journal_files is not None, said(findings)
    run, more = read_experiment(journal_files.folders[0], journal_files)
    assert run is not None, said(more)
    return [(_shown(row), row.scale) for row in run.rows.readings], [finding.code for finding in more]


def _shown(row: Reading) -> str:
    return " ".join(filter(None, (row.name, row.moment, amount(row.value))))


@pytest.mark.parametrize(
    ("entry", "meters", "shown"),
    [
        ("ec: 700 ppm", [PEN], [("ec 1.4 mS/cm", 500)]),
        ("ec: 700 ppm", [STICK], [("ec 1 mS/cm", 700)]),
        ("ec: about 700-1400 TDS", [STICK], [("ec about 1-2 mS/cm", 700)]),
        ("ec: '840, then 700 ppm'", [PEN], [("ec before 1.68 mS/cm", 500), ("ec after 1.4 mS/cm", 500)]),
        ("ec: {value: 700 ppm, meter: stick}", [PEN, STICK], [("ec 1 mS/cm", 700)]),
        ("ec: {value: 1.2 mS/cm, meter: pen}", [PEN, STICK], [("ec 1.2 mS/cm", 500)]),
        ("ec: 1.2 mS/cm", [PEN], [("ec 1.2 mS/cm", 500)]),
        ("ec: 1.2 mS/cm", [PEN, STICK], [("ec 1.2 mS/cm", None)]),
        ("ec: 640 ppm640", [], [("ec 1 mS/cm", 640)]),
        ("ec: 640 ppm640", [PEN], [("ec 1 mS/cm", 640)]),
        ("ph: {value: 6.1}", [PEN], [("ph 6.1", None)]),
    ],
)
def test_the_scale_of_a_meter(
    entry: str, meters: Sequence[str], shown: list[tuple[str, int | None]], tmp_path: Path
) -> None:
    """Ppm become an EC by the scale of the meter: the one named, or the one that all meters have."""
    assert read(tmp_path, entry, *meters) == (shown, [])


@pytest.mark.parametrize(
    "meters", [[], [OLD], [PEN, STICK], [PEN, OLD]], ids=["none", "no scale", "two", "one of two"]
)
def test_ppm_without_a_scale_stay_ppm(meters: Sequence[str], tmp_path: Path) -> None:
    """Without a meter, without its scale or with one of several meters ppm are kept, never converted, and found."""
    assert read(tmp_path, "ec: 700 ppm", *meters) == ([("ec 700 ppm", None)], ["ppm-without-scale"])


def test_a_meter_that_is_none(tmp_path: Path) -> None:
    """A meter belongs to EC alone."""
    assert found(tmp_path, "  - {day: 9, height: {each: 9 cm, meter: pen}}\n") == [
        "8:42: unknown-key: `meter` belongs to `ec`; `height` has none (remove `meter`)"
    ]


def test_light_and_lux(tmp_path: Path) -> None:
    """Light at the plants is read by tub, lux beside it stay lux."""
    log = (
        "  - {day: 9, ppfd: {left: 210 umol/m2/s, right: about 180-200 umol/m2/s}, lux: {left: 14000 lux}}\n"
    )
    found_rows = rows(tmp_path, log, TUBS).readings
    assert [(row.name, row.tub, amount(row.value)) for row in found_rows] == [
        ("ppfd", "left", "210 µmol/m²/s"),
        ("ppfd", "right", "about 180-200 µmol/m²/s"),
        ("lux", "left", "1.4e+04 lux"),
    ]
    assert found_rows[2].value == Quantity(14000, 14000, Dimension.ILLUMINANCE, step=1)


def test_when_a_lamp_goes_on(tmp_path: Path) -> None:
    """The time holds until another is given, in minutes after midnight."""
    log = (
        "  - {day: 9, light: {distance: 20 cm}}\n  - {day: 12, light: {on: 00:00}}\n"
        "  - {day: 14, light: off}\n  - {day: 16, light: {hours: 12 h}}\n"
    )
    lights = rows(tmp_path, log, HEAD + "light: {hours: 14 h, on: 06:30}\n").lights
    assert [(light.use.on, light.use.off) for light in lights] == [
        (390, False), (390, False), (0, False), (0, True), (0, False)
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "mend"),
    [
        ("6 pm", "write `on: 18:00`"),
        ("12 am", "write `on: 00:00`"),
        ("6.30", "write `on: 06:30`"),
        ("6h", "write `on: 06:00`"),
        ("25:00", "write hours and minutes, such as `on: 06:00`"),
        ("morning", "write hours and minutes, such as `on: 06:00`"),
    ],
)
def test_what_is_no_time_of_day(text: str, mend: str, tmp_path: Path) -> None:
    """A time of another clock is refused, and the help writes it by the clock of 24 hours where it can."""
    head = f"{HEAD}light: {{hours: 14 h, on: {text}}}\n"
    assert found(tmp_path, "  - {day: 0, sow: 2 a spot}\n", head) == [
        f"7:26: not-a-time: `{text}` is not a time of day; `on` wants hours and minutes ({mend})"
    ]
