"""Records as JSON and back."""

from __future__ import annotations

import json
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Figure, Label, Share, remark
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.records.codec import codec_for
from sitegen.core.records.setup import Answer
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension

REMARKS = (
    remark("picks_with_plants", n=1, plants=("P2", "P3")),
    remark("gap", hours=2.5, day=Day.on(3)),
    remark("without_things", things=(Label("feed", "cost"),)),
    remark("from_sowing", days=Quantity(60, 60, Dimension.DAYS)),
)
VALUES = (
    Quantity(205.0, None, Dimension.MASS, about=True, unweighed=1, step=1.0),
    Day(33, 38),
    Share(2, 4, 0.15, 0.85),
    date(2026, 3, 1),
    "not recorded plant by plant",
    None,
)


@pytest.mark.parametrize("value", VALUES, ids=lambda v: type(v).__name__)
def test_a_figure_comes_back_equal(value: object) -> None:
    """Every kind of value, and of value of a remark, survives the way through JSON text."""
    figure = Figure("harvest.total", value, "total_weight", (Source("a.yaml", 3, 5, 2),), REMARKS)  # type: ignore[arg-type]
    codec = codec_for(Figure)

    assert codec.decode(json.loads(json.dumps(codec.encode(figure)))) == figure


@given(st.builds(Finding, st.just("no-unit"), st.builds(Source, st.text()), st.text(), st.text()))
def test_findings_come_back_equal(finding: Finding) -> None:
    """Any text survives, whatever signs it holds."""
    codec = codec_for(Finding)

    assert codec.decode(json.loads(json.dumps(codec.encode(finding)))) == finding


@pytest.mark.parametrize("data", [None, [], ["a"], 7, "text", {"Day": [1]}, [["x"], {}, {}]])
def test_foreign_data_are_refused(data: object) -> None:
    """What was not written by the codec raises ValueError and nothing else."""
    with pytest.raises(ValueError, match=r"."):
        codec_for(Figure).decode(data)


def test_words_of_a_choice_stay_words() -> None:
    """A literal is kept as its text."""
    answer = Answer("not again", "too slow")

    assert codec_for(Answer).encode(answer) == ["not again", "too slow"]


def test_defaults_at_the_end_are_not_kept() -> None:
    """A record is as long as its last field that says something: the ones before it keep their places."""
    codec = codec_for(Quantity)

    assert codec.encode(Quantity(5.0, 5.0, Dimension.MASS)) == [5.0, 5.0, "mass"]
    assert codec.encode(Quantity(5.0, None, Dimension.MASS, open=1)) == [5.0, None, "mass", False, False, 1]
    assert codec.decode([5.0, None, "mass", False, False, 1]) == Quantity(5.0, None, Dimension.MASS, open=1)


@pytest.mark.parametrize(
    "data", [[5.0, 5.0], [5.0, 5.0, "mass", False, False, 0, 0, 1.0, 7], [5.0, 5.0, "mess"]]
)
def test_a_record_of_another_length_is_refused(data: object) -> None:
    """Neither a field without a default may lack, nor may there be more fields than the type has."""
    with pytest.raises(ValueError, match=r"."):
        codec_for(Quantity).decode(data)


def test_fields_that_are_not_wanted_stay_at_their_defaults() -> None:
    """Decoding without a field takes its default, whatever was kept, in records inside others too."""
    figure = Figure(
        "harvest.total", Quantity(5.0, 6.0, Dimension.MASS, step=1.0), "total_weight", (), REMARKS
    )
    codec = codec_for(Figure, ((Figure, "remarks"), (Quantity, "step")))

    expected = Figure("harvest.total", Quantity(5.0, 6.0, Dimension.MASS), "total_weight")
    assert codec.decode(codec.encode(figure)) == expected
    assert codec_for(Figure).decode(codec.encode(figure)) == figure
