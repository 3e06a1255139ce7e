"""What `validate` says of texts and templates: all that `write` says, without a drawing or an encoded photo."""

from __future__ import annotations

import datetime as dt
import shutil
from pathlib import Path

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.pipeline import publish, validate
from tests.cases import BASE

TODAY = dt.date(2026, 11, 28)
ROOT = Path(__file__).parents[3]
TEMPLATES = ROOT / "themes" / "ledger" / "templates"
# Running, failed, with arms, from memory, planned.
SOME = (
    "cinder-beside-pebble",
    "emberfrill-hot-loft",
    "pebble-two-lamps",
    "lettuce-on-the-sill",
    "emberfrill-in-march",
)
MAIN = "{% block main %}"
RUN = """\
format: 1
title: Sorrel in a crate
crop: sorrel
system: crate
start: 2025-03-01
plants: 4
log:
  - {day: 0, sow: 2 a spot}
  - {day: 8, height: 2 cm}
  - {day: 12, height: 5 cm}
  - {day: 20, height: 9 cm, harvest: 8 g}
  - {day: 21, end: {why: eaten, plants: cleared}}
answer: {verdict: again}
"""


def _journal(root: Path, **files: str) -> Path:
    """The sound journal with one run, and other files by their places."""
    shutil.copytree(BASE, root)
    for place, text in {"seasons/spring/crate-run/experiment.yaml": RUN, **files}.items():
        (root / place).parent.mkdir(parents=True, exist_ok=True)
        (root / place).write_text(text, "utf-8")
    return root


def _own(root: Path, name: str, before: str, after: str) -> str:
    """A copy of the theme's template in the journal, with a change."""
    text = (TEMPLATES / name).read_text("utf-8")
    assert before in text
    own = root / "look" / "templates" / name
    own.parent.mkdir(parents=True, exist_ok=True)
    own.write_text(text.replace(before, after, 1), "utf-8")
    return f"look/templates/{name}"


def _both(root: Path, output: Path) -> tuple[Finding, ...]:
    """The findings of validating, which are those of writing anew."""
    found = validate(root, TODAY).findings
    assert publish(root, TODAY, output=output, fresh=True).findings == found
    return found


@pytest.mark.parametrize("runs", [SOME, pytest.param((), marks=pytest.mark.full)], ids=["some", "all"])
def test_own_copies_of_all_templates_have_nothing_wrong(runs: tuple[str, ...], tmp_path: Path) -> None:
    """The demo with its theme's templates as its own is filled without a drawing, and has no finding more."""
    root = tmp_path / "journal"
    shutil.copytree(ROOT / "content_demo", root)
    for path in root.glob("seasons/*/*/"):
        if path.is_dir() and runs and path.name not in runs:
            shutil.rmtree(path)
    before = validate(root, TODAY).findings
    shutil.copytree(TEMPLATES, root / "look" / "templates")

    assert validate(root, TODAY).findings == before


@pytest.mark.parametrize("name", ["experiment.html", "record.html", "home.html", "text.html"])
def test_a_broken_template_is_found_before_it_is_written(name: str, tmp_path: Path) -> None:
    """A name that a page does not have is found in the templates of runs, lists and texts."""
    root = _journal(tmp_path / "journal", **{"about.md": "# About\n\nInvented.\n"})
    place = _own(root, name, MAIN, MAIN + "{{ weather }}")

    found = _both(root, tmp_path / "output")

    assert {(f.code, f.source.file) for f in found} == {("bad-template", place)}


def test_a_macro_that_fails_in_a_recap_is_found(tmp_path: Path) -> None:
    """The macro by which a recap places a chart is filled too, though the chart is not drawn."""
    recap = "seasons/spring/crate-run/recap.md"
    root = _journal(tmp_path / "journal", **{recap: "Up it went.\n\n~~~ chart\nheight\n~~~\n"})
    place = _own(root, "parts.html", "{% macro chart(chart, link, files", "{% macro chart(wrong, link, files")

    found = _both(root, tmp_path / "output")

    assert {(f.code, f.source.file) for f in found} == {("bad-template", place)}


def test_templates_are_looked_at_beside_an_error_of_a_run(tmp_path: Path) -> None:
    """An error that keeps everything back does not hide what is wrong with a template."""
    root = _journal(
        tmp_path / "journal", **{"seasons/spring/other/experiment.yaml": RUN.replace("9 cm,", "9,")}
    )
    _own(root, "home.html", MAIN, MAIN + "{{ weather }}")

    found = _both(root, tmp_path / "output")

    assert sorted(f.code for f in found) == ["bad-template", "no-unit"]


def test_the_template_of_a_draft_is_looked_at(tmp_path: Path) -> None:
    """A template that fails with a draft alone is found before somebody asks for a copy of its page."""
    root = _journal(tmp_path / "journal", **{"seasons/spring/other/experiment.yaml": f"draft: true\n{RUN}"})
    place = _own(root, "experiment.html", MAIN, MAIN + "{{ {'crate-run': 1}[facts.id] + 1 }}")

    found = _both(root, tmp_path / "output")

    assert [(f.code, f.source.file) for f in found if f.is_error] == [("bad-template", place)]


def test_a_mended_text_is_looked_at_again(tmp_path: Path) -> None:
    """A finding in a text goes with the edit that mends it, or with the run that it links to coming."""
    recap, other = "seasons/spring/crate-run/recap.md", "seasons/spring/other/experiment.yaml"
    root = _journal(tmp_path / "journal", **{recap: "As in [the other](other), {{ facts.harvest.totl }}.\n"})

    first = [f.code for f in validate(root, TODAY).findings]
    (root / other).parent.mkdir()
    (root / other).write_text(RUN.replace("8 g", "7 g"), "utf-8")
    second = [f.code for f in validate(root, TODAY).findings]
    (root / recap).write_text("As in [the other](other), {{ facts.harvest.total }}.\n", "utf-8")
    third = [f.code for f in validate(root, TODAY).findings]

    assert (first, second, third) == (["unknown-experiment", "bad-template"], ["bad-template"], [])


def test_the_text_of_raw_html_depends_on_the_journal(tmp_path: Path) -> None:
    """A journal that begins to take HTML has its texts looked at again."""
    root = _journal(tmp_path / "journal", **{"about.md": "# About\n\nAn <blink>old</blink> bench.\n"})

    first = [f.code for f in validate(root, TODAY).findings]
    settings = root / "journal.yaml"
    settings.write_text(settings.read_text("utf-8") + "raw_html: true\n", "utf-8")

    assert (first, [f.code for f in validate(root, TODAY).findings]) == (["raw-html"], ["html-removed"])
