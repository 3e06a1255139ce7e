"""A run with its arms, as other runs are compared with it.

In: the facts of a run. Out: `RunArms`: the whole run, its arms (groups, tubs or varieties), each variety and each
system that it had, with their figures but without the lines of the log that those rest on. Nothing is computed that the
facts do not have: an arm's figures are those of its group, tub or variety.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date

from sitegen.core.facts.across import (
    ArmFigures,
    ArmStage,
    ArmSummary,
    PlantYield,
    Role,
    RunArms,
    RunningTotal,
    TubUse,
)
from sitegen.core.facts.figure import NO_FIGURE, Figure, Label, Named
from sitegen.core.facts.indices import PlantSetFacts, SetStageFacts
from sitegen.core.facts.tree import Facts, MilestoneFacts
from sitegen.core.records.arms import KINDS, Arm, arms_of, splits_of
from sitegen.core.records.log_digest import log_digest
from sitegen.core.records.rows import Tasting
from sitegen.core.records.setup import Compared
from sitegen.core.reference.milestones import stage_that_matters
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.measure.across.conditions import conditions_of

_SETS: dict[Compared, str] = {"groups": "by_group", "tubs": "by_tub", "varieties": "by_variety"}


def run_arms(facts: Facts) -> RunArms:
    """One run as comparisons take it."""
    setup, start = facts.run.setup, facts.run.setup.start
    return RunArms(
        run=facts.id,
        title=setup.title,
        crop=setup.crop.id,
        kind=setup.crop.kind,
        began=start.date,
        ended=_last_date(facts),
        running=facts.running,
        last_day=facts.axis.last,
        uses=tuple(_uses(facts)),
        log=log_digest(facts.run.rows),
        conditions=()
        if setup.from_memory
        else conditions_of(facts),  # what is remembered is compared with nothing
        arms=tuple(_arms(facts)),
        verdict=(setup.answer.verdict or "") if setup.answer else "",
        expected=_bare(facts.harvest.timing.expected),
        shares=tuple((share.run, setup.tub(share.tub).system.id) for share in setup.shares),
    )


def _last_date(facts: Facts) -> date | None:
    """The last date on which it can have stood in its tubs."""
    latest = facts.run.setup.start.latest
    return None if latest is None else date.fromordinal(latest.toordinal() + facts.axis.last)


def _uses(facts: Facts) -> Iterator[TubUse]:
    tubs = facts.run.setup.tubs
    for system in dict.fromkeys(tub.system for tub in tubs):
        yield TubUse(system.id, sum(tub.system == system for tub in tubs), system.count)


def _arms(facts: Facts) -> Iterator[ArmSummary]:
    """The whole run, and whatever its plants are divided by; an arm with several roles once."""
    found = arms_of(facts.run.setup)
    yield _whole(facts, _roles_of_whole(facts, found))
    splits = splits_of(facts.run.setup)
    for kind in KINDS:
        for key, plants in splits.get(kind, {}).items():
            roles = tuple(_roles(facts, kind, key, found))
            if roles:
                yield _of_set(facts, kind, key, plants, roles)


def _roles_of_whole(facts: Facts, arms: tuple[Arm, ...]) -> tuple[Role, ...]:
    setup = facts.run.setup
    one = {"variety": len(setup.variety_ids) == 1, "system": len({tub.system.id for tub in setup.tubs}) == 1}
    rows: tuple[Role, ...] = () if arms else ("row",)
    return (*rows, *(role for role in ("variety", "system") if one[role]))


def _roles(facts: Facts, kind: Compared, key: str, arms: tuple[Arm, ...]) -> Iterator[Role]:
    if any((arm.kind, arm.key) == (kind, key) for arm in arms):
        yield "row"
    if kind == "varieties":
        yield "variety"
    tubs = facts.run.setup.tubs
    if kind == "tubs" and len({tub.system.id for tub in tubs}) == len(tubs):
        yield "system"


def _whole(facts: Facts, roles: tuple[Role, ...]) -> ArmSummary:
    setup, harvest = facts.run.setup, facts.harvest
    stage = next((s for s in facts.milestones if s.name == stage_that_matters(setup.crop.kind)), None)
    return ArmSummary(
        kind="run",
        key="",
        label=Label(setup.title),
        plants=len(setup.plants),
        varieties=setup.variety_ids,
        systems=tuple(dict.fromkeys(tub.system.id for tub in setup.tubs)),
        roles=roles,
        figures=_bare_figures(
            ArmFigures(
                emergence=facts.germination.first_day,
                germination=facts.germination.share,
                stage=stage.median if stage else NO_FIGURE,
                reached=stage.share if stage else NO_FIGURE,
                first_pick=harvest.first_pick,
                last_pick=harvest.last_pick,
                total=harvest.total,
                per_spot=harvest.per_spot,
                square_metre=harvest.per.square_metre,
                litre=harvest.per.litre,
                kilowatt_hour=harvest.per.kilowatt_hour,
                height=facts.growth.tallest,
            )
        ),
        stages=tuple(_stage_of_run(milestone) for milestone in facts.milestones),
        yields=_yields(harvest.by_plant),
        picked=tuple(RunningTotal(point.day, point.total) for point in harvest.cumulative),
        taste=_tastes((row.score, row.out_of, row.what) for row in facts.run.rows.of(Tasting)),
    )


def _tastes(notes: Iterable[tuple[Quantity | None, int | None, str]]) -> str:
    """Notes of taste as their author wrote them, one after the other."""
    scores = (
        (f"{score.low:g}/{out_of}" if score and out_of else "", words) for score, out_of, words in notes
    )
    return "; ".join(", ".join(part for part in note if part) for note in scores)


def _of_set(
    facts: Facts, kind: Compared, key: str, plants: tuple[str, ...], roles: tuple[Role, ...]
) -> ArmSummary:
    setup, path = facts.run.setup, _SETS[kind]
    of_set = next(each for each in _sets(facts, kind) if each.key == key)
    members = [plant for plant in setup.plants if plant.id in plants]
    tubs = {plant.tub for plant in members}
    stage = next((s for s in of_set.stages if s.key == stage_that_matters(setup.crop.kind)), None)
    return ArmSummary(
        kind=kind,
        key=key,
        label=of_set.label,
        plants=len(plants),
        varieties=tuple(dict.fromkeys(plant.variety for plant in members if plant.variety)),
        systems=tuple(dict.fromkeys(tub.system.id for tub in setup.tubs if tub.id in tubs)),
        roles=roles,
        figures=_bare_figures(
            ArmFigures(
                emergence=of_set.emergence,
                germination=of_set.germination,
                stage=stage.median if stage else NO_FIGURE,
                reached=stage.share if stage else NO_FIGURE,
                first_pick=of_set.picks.first,
                last_pick=of_set.picks.last,
                total=_named(getattr(facts.harvest, path), key),
                per_spot=of_set.picks.per_spot,
                square_metre=of_set.picks.square_metre,
                litre=of_set.picks.litre,
                kilowatt_hour=of_set.picks.kilowatt_hour,
                lost=of_set.lost,
                height=of_set.height.mean,
            )
        ),
        stages=tuple(_stage_of_set(stage) for stage in of_set.stages),
        yields=_yields(row for row in facts.harvest.by_plant if row.key in plants),
        picked=tuple(RunningTotal(point.day, point.total) for point in of_set.cumulative),
        taste=_tastes((note.score, note.out_of, note.words) for note in of_set.tastes),
    )


def _sets(facts: Facts, kind: Compared) -> tuple[PlantSetFacts, ...]:
    found: tuple[PlantSetFacts, ...] = getattr(facts.sets, _SETS[kind])
    return found


def _named(rows: Iterable[Named], key: str) -> Figure:
    return next((row.figure for row in rows if row.key == key), NO_FIGURE)


def _yields(rows: Iterable[Named]) -> tuple[PlantYield, ...]:
    return tuple(
        PlantYield(row.key, row.figure.value) for row in rows if isinstance(row.figure.value, Quantity)
    )


def _stage_of_run(milestone: MilestoneFacts) -> ArmStage:
    first = milestone.first.value
    return ArmStage(
        milestone.name,
        milestone.label,
        len(milestone.in_state("reached")),
        bool(milestone.in_state("not yet")),
        first if isinstance(first, Day) else None,
        None if isinstance(first, Day) else max(milestone.not_yet, key=lambda day: day.last, default=None),
    )


def _stage_of_set(stage: SetStageFacts) -> ArmStage:
    def count(figure: Figure) -> int:
        return int(figure.value.low) if isinstance(figure.value, Quantity) else 0

    return ArmStage(stage.key, stage.label, count(stage.reached), count(stage.not_yet) > 0)


def _bare_figures(figures: ArmFigures) -> ArmFigures:
    return ArmFigures(*(_bare(getattr(figures, name)) for name in ArmFigures.__slots__))


def _bare(figure: Figure) -> Figure:
    """A figure without the lines that went in: only the run's own page names them."""
    return replace(figure, rows=()) if figure.rows else figure
