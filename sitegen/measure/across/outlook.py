"""What is to come in a run that still grows, from earlier runs of its crop: stage, first pick or end, total.

In: `RunArms` of the run and of those that began before it. Out: `Outlook`, by the last look at the run, never by today.
A stage comes on the day on which it is first seen. Of an earlier run that did not have it, the last look for it is a
lower bound; where the run had been given up before the day of this one's last look, it says nothing of later days, as
in Kaplan and Meier's estimate. A stage that a log never looked for is unknown of that run. Totals are those of runs that
ended: by spot, and of the whole run where all stood about as close.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import reduce

from sitegen.core.facts.across import ArmFigures, ArmStage, ArmSummary, Expected, Outlook, RunArms
from sitegen.core.facts.figure import NO_FIGURE, Figure, Label
from sitegen.core.reference.milestones import milestones_of
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.across.prediction import FEWEST, Bounds, Prediction, predict
from sitegen.measure.across.units import units_of

ALIKE = 1.1  # densities that differ by no more are taken as one; common practice, no source

_Read = Callable[[RunArms], Bounds | None]
_Unit = Sequence[RunArms]


def outlook_of(run: RunArms, earlier: Sequence[RunArms]) -> Outlook:
    """What is to come, by the last look at the run."""
    if not run.running or not run.log:
        return Outlook(run.last_day)
    others = [each for each in earlier if each.log not in ("", run.log)]
    apart = {each.run: each for each in others if each.run not in _beside(run, others)}
    units = [[apart[name] for name in unit.runs] for unit in units_of(tuple(apart.values()))]
    logs = {each.log for each in others}
    return Outlook(run.last_day, tuple(_expected(run, units)), once=len(units) < len(logs))


def for_outlook(run: RunArms) -> RunArms:
    """An earlier run with no more than an outlook reads of it."""
    whole = _whole(run)
    picked = ArmFigures(first_pick=_alone(whole.figures.first_pick), per_spot=_alone(whole.figures.per_spot))
    stages = (ArmStage(each.name, Label(""), first=each.first, not_yet=each.not_yet) for each in whole.stages)
    arm = ArmSummary("run", "", Label(""), 0, (), (), (), picked, tuple(stages))
    density = tuple(each for each in run.conditions if each.code == "density")
    return replace(
        run, title="", crop="", kind="", conditions=density, arms=(arm,), verdict="", expected=NO_FIGURE
    )


def _alone(figure: Figure) -> Figure:
    """The value without what is said of it."""
    return replace(figure, rows=(), remarks=())


def _expected(run: RunArms, units: Sequence[_Unit]) -> Iterator[Expected]:
    if (stage := _next_stage(run, units)) is not None:
        yield stage
    if not isinstance(_whole(run).figures.first_pick.value, Day):
        found = predict(_values(units, _first_pick, run.last_day), run.last_day + 1)
        yield from _said("first_pick", Label("first_pick", "site"), found, _as_day(found.window))
    else:
        found = predict(_values(units, _end, run.last_day), run.last_day + 1)
        yield from _said("end", Label("end", "site"), found, _as_day(found.window))
    yield from _total(run, units)


def _said(what: str, label: Label, found: Prediction, window: Day | Quantity | None) -> Iterator[Expected]:
    """What was found, unless no earlier run says anything of it."""
    if found.runs or found.open or found.passed:
        yield Expected(
            what, label, window, found.chance, found.runs, found.open, found.passed, found.at_least
        )


def _whole(run: RunArms) -> ArmSummary:
    return next(arm for arm in run.arms if arm.kind == "run")


def _as_day(window: Bounds | None) -> Day | None:
    if window is None or window.high is None:
        return None
    return Day(int(window.low), int(window.high), window.about)


# values of runs


def _values(units: Sequence[_Unit], read: _Read, day: int) -> list[Bounds]:
    """One value a unit; a run that was given up, without it, before the day says nothing."""

    def known(run: RunArms) -> Bounds | None:
        value = read(run)
        return None if value is None or (value.high is None and value.low <= day) else value

    return _of_units(units, known)


def _of_units(units: Sequence[_Unit], read: _Read) -> list[Bounds]:
    """One value a unit: what holds those of all its runs."""
    values = ([value for run in unit if (value := read(run)) is not None] for unit in units)
    return [reduce(Bounds.joined, known) for known in values if known]


def _first_pick(run: RunArms) -> Bounds | None:
    """When something was first picked; later than the last look where nothing was."""
    day = _whole(run).figures.first_pick.value
    return _on(day) if isinstance(day, Day) else Bounds(run.last_day + 1, None)


def _end(run: RunArms) -> Bounds:
    """The last day of a run; later than that where it still grows."""
    return Bounds(run.last_day + 1, None) if run.running else Bounds(run.last_day, run.last_day)


def _on(day: Day) -> Bounds:
    return Bounds(day.first, day.last, day.about)


def _stage(name: str) -> _Read:
    def read(run: RunArms) -> Bounds | None:
        stage = _stages(run).get(name)
        if stage is None:
            return None
        if stage.first is not None:
            return _on(stage.first)
        return Bounds(stage.not_yet.first + 1, None) if stage.not_yet else None

    return read


def _stages(run: RunArms) -> Mapping[str, ArmStage]:
    return {stage.name: stage for stage in _whole(run).stages}


# the next stage


def _next_stage(run: RunArms, units: Sequence[_Unit]) -> Expected | None:
    """The first stage after those seen of which earlier runs say when it comes, or that it is late; else the first."""
    found = [said for name in _to_come(run, units) for said in _stage_expected(run, units, name)]
    telling = (each for each in found if each.window or (each.later and each.passed >= FEWEST))
    return next(telling, next(iter(found), None))


def _stage_expected(run: RunArms, units: Sequence[_Unit], name: str) -> Iterator[Expected]:
    found = predict(_values(units, _stage(name), run.last_day), run.last_day + 1)
    return _said(name, Label(name, "stage"), found, _as_day(found.window))


def _to_come(run: RunArms, units: Sequence[_Unit]) -> list[str]:
    """Stages that some earlier run had, in the order of growth, after the last that this run had."""
    had = {name for unit in units for each in unit for name, stage in _stages(each).items() if stage.first}
    order = list(milestones_of(run.kind))
    seen = {name for name, stage in _stages(run).items() if stage.first is not None}
    last = max((order.index(name) for name in seen if name in order), default=-1)
    return [name for name in order[last + 1 :] if name in had]


# the total


def _total(run: RunArms, units: Sequence[_Unit]) -> Iterator[Expected]:
    """The harvest: of the whole run where all stood about as close, else of a spot."""
    ended = [[each for each in unit if not each.running] for unit in units]
    values = _of_units(ended, _per_spot)
    so_far = _whole(run).figures.per_spot.value
    found = predict(values, so_far.low if isinstance(so_far, Quantity) else 0.0)
    alike = _as_close([run, *(each for unit in ended for each in unit)])
    spots = _whole(run).plants if alike else 1
    yield from _said(
        "total" if alike else "per_spot",
        Label("total" if alike else "per_spot", "site"),
        found,
        _as_mass(found.window, spots, _step(ended)),
    )


def _per_spot(run: RunArms) -> Bounds | None:
    """What a spot gave; nothing where nothing was picked."""
    figures = _whole(run).figures
    value = figures.per_spot.value
    if isinstance(value, Quantity):
        return Bounds(value.low, value.high, value.about, value.by_eye)
    return None if isinstance(figures.first_pick.value, Day) else Bounds(0.0, 0.0)


def _as_mass(window: Bounds | None, spots: int, step: float) -> Quantity | None:
    if window is None or window.high is None:
        return None
    mass = Quantity(window.low, window.high, Dimension.MASS, window.about, window.by_eye, step=step)
    return mass.times(spots)


def _step(units: Sequence[_Unit]) -> float:
    """The coarsest step of what spots gave."""
    values = (_whole(run).figures.per_spot.value for unit in units for run in unit)
    return max((value.step for value in values if isinstance(value, Quantity)), default=0.0)


def _as_close(runs: Sequence[RunArms]) -> bool:
    """Whether the plants of all runs stood about as close, as far as every log tells."""
    values = [next((c.value for c in run.conditions if c.code == "density"), None) for run in runs]
    known = [value for value in values if value is not None and value.single]
    lows = [value.low for value in known]
    return len(known) == len(runs) and max(lows) <= ALIKE * min(lows)


# independent units


def _beside(run: RunArms, others: Sequence[RunArms]) -> frozenset[str]:
    """The runs that may have stood in a tub of this one while it was there: they are no earlier evidence."""
    meanwhile = [run, *(each for each in others if _met(run, each))]
    units = units_of(meanwhile)
    apart = {name for unit in units if run.run not in unit.runs for name in unit.runs}
    return frozenset(each.run for each in meanwhile if each.run not in apart)


def _met(run: RunArms, other: RunArms) -> bool:
    """Whether two runs can have stood at the same time."""
    if run.began is None or run.ended is None or other.began is None or other.ended is None:
        return True
    return other.ended > run.began and run.ended > other.began
