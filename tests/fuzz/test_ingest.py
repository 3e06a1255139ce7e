"""Whatever is written into a journal: rows or findings, and never an exception."""

# ruff: noqa: E501 - strategies are read by the line

from __future__ import annotations

import datetime as dt
import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitegen.app.console.report import findings_text
from sitegen.core.findings.finding import Findings
from sitegen.core.format import TABLES
from sitegen.ingest.yaml.parser import parse
from sitegen.pipeline import validate
from sitegen.pipeline.results import Checked

PRINTED = Path(__file__).parent.parent / "journals" / "format"
FOLDER = "seasons/2025-autumn/pak-choi-pairs"
FILES = ("journal.yaml", "gear.yaml", "crops.yaml", f"{FOLDER}/experiment.yaml")
TODAY = dt.date(2026, 1, 15)
MORE = settings(
    max_examples=settings().max_examples * 3 // 2,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
PIECES = st.sampled_from(
    [*"{}[]:,-#&*!|>'\"%@`?~\n\t \0\ufeff", ": ", " #", "- ", "P1", "9 cm", "\r\n", "½", "ü", "😀"]
)


@pytest.fixture(scope="module")
def journal(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the printed journal to spoil."""
    root = tmp_path_factory.mktemp("fuzz") / "journal"
    shutil.copytree(PRINTED, root)
    return root


def _spoilt(root: Path, name: str, content: bytes) -> Checked:
    """What validating finds with one file replaced; the file is put back."""
    path = root / name
    sound = path.read_bytes()
    path.write_bytes(content)
    try:
        checked = validate(root, TODAY)
        # What is found can be shown, whatever the file holds; a log cut short between two entries is sound.
        assert bool(findings_text(checked.findings, root)) == bool(checked.findings)
        return checked
    finally:
        path.write_bytes(sound)


def _holds(checked: Checked, root: Path) -> None:
    """Every finding has a message, and a place in a file or folder of the journal."""
    for finding in checked.findings:
        source = finding.source
        assert finding.message
        assert min(source.line, source.column, source.width) >= 1
        assert (root / source.file).exists()


@MORE
@given(
    name=st.sampled_from(FILES),
    place=st.floats(0, 1),
    length=st.integers(0, 12),
    new=st.binary(max_size=8),
)
def test_bytes(name: str, place: float, length: int, new: bytes, journal: Path) -> None:
    """A few bytes anywhere replaced by others are survived."""
    sound = (journal / name).read_bytes()
    start = int(place * len(sound))

    _holds(_spoilt(journal, name, sound[:start] + new + sound[start + length :]), journal)


@MORE
@given(name=st.sampled_from(FILES), place=st.floats(0, 1), new=st.lists(PIECES, min_size=1, max_size=4))
def test_signs(name: str, place: float, new: list[str], journal: Path) -> None:
    """Signs that mean something to YAML or to the format are survived wherever they fall."""
    sound = (journal / name).read_text("utf-8")
    start = int(place * len(sound))

    _holds(_spoilt(journal, name, (sound[:start] + "".join(new) + sound[start:]).encode()), journal)


@MORE
@given(name=st.sampled_from(FILES), places=st.lists(st.floats(0, 1), min_size=2, max_size=2))
def test_lines(name: str, places: list[float], journal: Path) -> None:
    """Lines left out or standing in another order are survived."""
    lines = (journal / name).read_text("utf-8").splitlines(keepends=True)
    one, two = (int(place * (len(lines) - 1)) for place in places)
    lines[one], lines[two] = lines[two], ""

    _holds(_spoilt(journal, name, "".join(lines).encode()), journal)


VALUES = st.recursive(
    st.one_of(
        st.sampled_from(["", "9 cm", "84 g", "all", "none", "2 of 6", "P1", "P1-P3", "off", "unweighed", "7.1, then 5.9"]),
        st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=12),
        st.integers(-9, 99).map(str),
    ).map(lambda text: "'" + text.replace("'", "''") + "'"),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda items: f"[{', '.join(items)}]"),
        st.dictionaries(
            st.sampled_from(["P1", "pair", "each", "together", "plants", "what", "weight", "at", "leaf-mix", "rosette", "x"]),
            inner,
            max_size=3,
        ).map(lambda pairs: f"{{{', '.join(f'{key}: {value}' for key, value in pairs.items())}}}"),
    ),
    max_leaves=6,
)  # fmt: skip


@MORE
@given(entry=st.dictionaries(st.sampled_from(TABLES["entry"].keys), VALUES, min_size=1, max_size=5))
def test_any_value_under_any_key(entry: dict[str, str], journal: Path) -> None:
    """Any value under any key of an entry is read or refused."""
    sound = (journal / FILES[3]).read_text("utf-8")
    written = ", ".join(f"{key}: {value}" for key, value in entry.items())

    _holds(_spoilt(journal, FILES[3], f"{sound}  - {{{written}}}\n".encode()), journal)


@MORE
@given(head=st.dictionaries(st.sampled_from(TABLES["experiment"].keys), VALUES, min_size=1, max_size=5))
def test_any_value_in_the_head(head: dict[str, str], journal: Path) -> None:
    """Any value under any key of the head is read or refused."""
    sound = (journal / FILES[3]).read_text("utf-8").splitlines()
    kept = [line for line in sound if line.partition(":")[0] not in head or line.startswith(" ")]
    written = [f"{key}: {value}" for key, value in head.items()]

    _holds(_spoilt(journal, FILES[3], "\n".join([*written, *kept]).encode()), journal)


@MORE
@given(text=st.one_of(st.text(max_size=200), st.lists(PIECES, max_size=60).map("".join)))
def test_any_text_is_a_tree_or_a_finding(text: str) -> None:
    """Any text at all gives a tree, or a finding that says why not."""
    findings = Findings()
    node = parse(text, "f.yaml", findings)

    assert node is not None or len(findings) > 0


@MORE
@given(
    content=st.one_of(
        st.binary(max_size=120),
        st.lists(st.sampled_from(["day", "a", ",", ";", "\t", "\n", '"', "9", "ca. 8", "12+", "-", "2025-10-01"]), max_size=40).map(
            lambda cells: "".join(cells).encode()
        ),
    ),
    ending=st.sampled_from(["csv", "xlsx"]),
)  # fmt: skip
def test_sheets(content: bytes, ending: str, journal: Path) -> None:
    """Any file that calls itself a spreadsheet is read or refused."""
    sheet = journal / FOLDER / f"sheet.{ending}"
    sheet.write_bytes(content)
    item = f"readings: [{{file: sheet.{ending}, reading: leaves, columns: {{a: P1}}}}]\n"
    sound = (journal / FILES[3]).read_text("utf-8")

    _holds(_spoilt(journal, FILES[3], sound.replace("log:\n", f"{item}log:\n").encode()), journal)
    sheet.unlink()
