"""Drawings by another process."""

from __future__ import annotations

import sys
import time
from contextlib import nullcontext
from pathlib import Path
from typing import Any

import pytest

from sitegen.pipeline import easel
from sitegen.pipeline.crew import FEW
from sitegen.pipeline.easel import drawn_aside, drawn_by
from sitegen.pipeline.inventory import SETTLED
from sitegen.plot import scene_graph
from tests.pipeline.bench import Site, leaf, tree

SPEC: dict[str, Any] = {
    "$schema": "https://vega.github.io/schema/vega/v5.json",
    "width": 40,
    "height": 20,
    "data": [{"name": "rows", "values": [{"x": 1.25, "y": "nine ½"}, {"x": 7, "y": "ten"}]}],
    "marks": [
        {
            "type": "text",
            "from": {"data": "rows"},
            "encode": {"enter": {"x": {"field": "x"}, "text": {"field": "y"}}},
        }
    ],
}
HERE: dict[str, Any] = {"width": 40}


def _never(_: dict[str, Any]) -> dict[str, Any]:
    pytest.fail("drawn here")


def test_the_same_is_drawn_aside() -> None:
    """The other process draws, one after another, what this one would."""
    with drawn_aside():
        draw = drawn_by(_never)
        drawn = draw(SPEC), draw({**SPEC, "width": 50})

    assert drawn == (scene_graph(SPEC), scene_graph({**SPEC, "width": 50}))
    assert "nine ½" in str(drawn[0])


def test_without_another_process_it_is_drawn_here() -> None:
    """Before it began, and after it was sent away."""
    with drawn_aside():
        pass

    assert drawn_by(lambda _: HERE)(SPEC) == HERE


def test_a_process_that_ends_is_done_without() -> None:
    """What it did not draw is drawn here, and so is all that follows."""
    with drawn_aside():
        easel._ASIDE[0].kill()
        easel._ASIDE[0].wait()
        draw = drawn_by(lambda _: HERE)

        assert (draw(SPEC), draw(SPEC)) == (HERE, HERE)


def test_a_process_that_cannot_begin(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no process can be started, all is drawn here."""
    monkeypatch.setattr(sys, "executable", "/nowhere/python")
    with drawn_aside():
        assert drawn_by(lambda _: HERE)(SPEC) == HERE


def test_a_drawing_that_fails_aside() -> None:
    """A specification that the library refuses is refused here too, with its own error; the other is not asked again."""
    with drawn_aside():
        begun = len(easel._ASIDE)
        with pytest.raises(ValueError, match="no such data"):
            drawn_by(_refusing)({"marks": [{"type": "rule", "from": {"data": "rows"}}]})

        assert (begun, len(easel._ASIDE)) == (1, 0)


def _refusing(_: dict[str, Any]) -> dict[str, Any]:
    raise ValueError("no such data")


def _lead(number: int) -> str:
    return leaf("Lead", more="question: Does it lead?\n").replace("9 cm", f"{number} cm")


@pytest.mark.parametrize(
    ("changed", "jobs", "helped"), [(0, 2, 0), (1, 2, 1), (1, 1, 0), (FEW, 2, 0)], ids=str
)
def test_help_is_called_where_a_few_have_changed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, changed: int, jobs: int, helped: int
) -> None:
    """Neither for a first run, nor where nothing or much has changed, nor where only one core may be used."""
    begun: list[int] = []
    site = Site.of(tmp_path, {f"run-{n}": _lead(9) for n in range(FEW)})
    monkeypatch.setattr(easel, "drawn_aside", lambda: begun.append(1) or nullcontext())  # type: ignore[func-returns-value]
    time.sleep(2 * SETTLED / 1e9)  # what is known of a file is kept once it is at rest
    site.write(jobs=jobs)
    first = len(begun)
    for number in range(changed):
        (site.experiment(f"run-{number}") / "experiment.yaml").write_text(_lead(10), "utf-8")
    site.write(jobs=jobs)

    assert (first, len(begun)) == (0, helped)


def test_with_help_the_same_is_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One reading more, drawn by another process, gives the bytes that a new run gives."""
    drawn: list[str | None] = []
    ask = easel._from_aside
    monkeypatch.setattr(easel, "_from_aside", lambda spec: drawn.append(ask(spec)) or drawn[-1])  # type: ignore[func-returns-value]
    site = Site.of(tmp_path, {"run-1": _lead(9), "run-2": _lead(9)})
    time.sleep(2 * SETTLED / 1e9)
    site.write(jobs=2)
    first = len(drawn)
    more = "  - day: 24\n    height: 14 cm\n"
    (site.experiment("run-1") / "experiment.yaml").write_text(_lead(9) + more, "utf-8")
    site.write(jobs=2)
    wanted, _ = site.anew()

    assert tree(site.output) == wanted
    assert first == 0
    assert drawn
    assert all(drawn)
