"""Runs as comparisons take them, made by hand.

In: days and weights. Out: `RunArms`.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace

from sitegen.core.facts.across import ArmFigures, ArmStage, ArmSummary, Condition, Role, RunArms, TubUse
from sitegen.core.facts.figure import NO_FIGURE, Figure, Label, Value
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension

__all__ = ["figure_of", "grown", "not_yet", "run_with", "seen"]

SPRING = dt.date(2024, 3, 1)


def figure_of(value: Value) -> Figure:
    """A figure with a value."""
    return NO_FIGURE if value is None else Figure("a", value, "a")


def seen(day: int | Day) -> ArmStage:
    """A stage that was first seen on a day; `run_with` names it."""
    first = day if isinstance(day, Day) else Day.on(day)
    return ArmStage("", Label("", "stage"), 1, first=first)


def not_yet(day: int) -> ArmStage:
    """A stage that was last looked for, and nowhere there, on a day."""
    return ArmStage("", Label("", "stage"), 0, open=True, not_yet=Day.on(day))


def run_with(
    number: int,
    stages: Mapping[str, ArmStage] | None = None,
    *,
    picked: int | Day | None = None,
    spot: float | Quantity | None = None,
    last: int = 100,
    running: bool = False,
    began: int | None = None,
    density: float | None = None,
) -> RunArms:
    """A run of a fruiting crop in one tub, begun 200 days after the one before; its records are like no other's."""
    start = SPRING + dt.timedelta(days=200 * number if began is None else began)
    first_pick = Day.on(picked) if isinstance(picked, int) else picked
    each = exactly(spot, Dimension.MASS, 1) if isinstance(spot, (int, float)) else spot
    whole = ArmSummary(
        "run",
        "",
        Label(f"Run {number}"),
        4,
        (),
        ("bucket",),
        ("row",),
        ArmFigures(first_pick=figure_of(first_pick), per_spot=figure_of(each)),
        tuple(
            replace(stage, name=name, label=Label(name, "stage")) for name, stage in (stages or {}).items()
        ),
    )
    return RunArms(
        f"run-{number}",
        f"Run {number}",
        "tomato",
        "fruiting",
        start,
        start + dt.timedelta(days=last),
        running,
        last,
        (TubUse("bucket", 1, 1),),
        f"log-{number}",
        () if density is None else (Condition("density", exactly(density, Dimension.COUNT)),),
        (whole,),
    )


def grown(
    number: int,
    varieties: Mapping[str, float | Quantity | None],
    *,
    measure: str = "per_spot",
    systems: Mapping[str, str] | None = None,
    title: str = "",
    **changes: object,
) -> RunArms:
    """A run with an arm for each variety and its value by a measure; `systems` names where each stood."""
    placed = {name: (systems or {}).get(name, "bucket") for name in varieties}

    def arm(name: str, value: float | Quantity | None) -> ArmSummary:
        each = exactly(value, Dimension.MASS, 1) if isinstance(value, (int, float)) else value
        figures = ArmFigures(**{measure: figure_of(each)})
        roles: tuple[Role, ...] = ("row", "variety")
        return ArmSummary("varieties", name, Label(name), 2, (name,), (placed[name],), roles, figures)

    run = run_with(number)
    arms = tuple(arm(name, value) for name, value in varieties.items())
    whole = replace(run.arms[0], roles=(), varieties=tuple(varieties))
    uses = tuple(TubUse(system, 1, 1) for system in dict.fromkeys(placed.values()))
    found = replace(run, title=title or run.title, uses=uses, arms=(whole, *arms))
    return replace(found, **changes)  # type: ignore[arg-type]
