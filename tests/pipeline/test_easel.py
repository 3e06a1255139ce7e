"""Drawings by another process."""

from __future__ import annotations

import sys
from typing import Any

import pytest

from sitegen.pipeline import easel
from sitegen.pipeline.easel import drawn_aside, drawn_by
from sitegen.plot import svg_of

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


def _never(_: dict[str, Any]) -> str:
    pytest.fail("drawn here")


def test_the_same_is_drawn_aside() -> None:
    """The other process draws, one after another, what this one would."""
    with drawn_aside():
        draw = drawn_by(_never)
        drawn = draw(SPEC), draw({**SPEC, "width": 50})

    assert drawn == (svg_of(SPEC), svg_of({**SPEC, "width": 50}))
    assert "nine ½" in drawn[0]


def test_without_another_process_it_is_drawn_here() -> None:
    """Before it began, and after it was sent away."""
    with drawn_aside():
        pass

    assert drawn_by(lambda _: "here")(SPEC) == "here"


def test_a_process_that_ends_is_done_without() -> None:
    """What it did not draw is drawn here, and so is all that follows."""
    with drawn_aside():
        easel._ASIDE[0].kill()
        easel._ASIDE[0].wait()
        draw = drawn_by(lambda _: "here")

        assert (draw(SPEC), draw(SPEC)) == ("here", "here")


def test_a_process_that_cannot_begin(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no process can be started, all is drawn here."""
    monkeypatch.setattr(sys, "executable", "/nowhere/python")
    with drawn_aside():
        assert drawn_by(lambda _: "here")(SPEC) == "here"


def test_a_drawing_that_fails_aside() -> None:
    """A specification that the library refuses is refused here too, with its own error."""
    with drawn_aside(), pytest.raises(ValueError, match="unknown mark"):
        drawn_by(_refusing)({"marks": "none"})


def _refusing(_: dict[str, Any]) -> str:
    raise ValueError("unknown mark")
