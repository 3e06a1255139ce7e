"""What must hold of random runs with everything in them: order, rows, bounds, flags, and what one more record does."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, replace
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sitegen.core.facts.figure import Figure, Money, Rate, Several, Share, figures, remark
from sitegen.core.facts.tree import Facts, Harvest
from sitegen.core.findings.source import Source
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Deed, Event, Reading, Rows, Run, Which
from sitegen.core.records.setup import Claims, Crop, Lamp, LampUse, Price, Prices, Seed
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from tests.measure.builders import (
    SYRUP,
    event,
    grams,
    joint,
    litres,
    milestone,
    ml,
    of,
    pick,
    place,
    reading,
    routine,
    run_of,
    setup_of,
    some,
    tally,
    unweighed,
)
from tests.measure.naming import by_name
from tests.measure.values import amount

FOUR = ("P1", "P2", "P3", "P4")
ALL = joint(*FOUR, word="all")
TUBS = ("left", "right")
DAYS = st.integers(0, 60)
SPANS = st.builds(
    lambda day, more, about: Day(day, day + more, about), DAYS, st.sampled_from((0, 0, 3)), st.booleans()
)
WHICH: st.SearchStrategy[Which] = st.sampled_from(
    [joint("P1"), joint("P2"), joint("P3", "P4"), joint("P1", "P3"), ALL, some(), of(2, 4)]
)
NAMED = st.sampled_from([joint("P1"), joint("P2"), joint("P3", "P4"), ALL])


def sized(dimension: Dimension, low: int, high: int, step: float) -> st.SearchStrategy[Quantity]:
    """An amount as it may be written: exact, a range, at least, by eye, about."""
    return st.builds(
        lambda first, more, kind: {
            "": Quantity(first, first, dimension, step=step),
            "range": Quantity(first, first + more, dimension, step=step),
            "at least": Quantity(first, None, dimension, open=1, step=step),
            "by eye": Quantity(first, first, dimension, by_eye=True, step=step),
            "about": Quantity(first, first, dimension, about=True, step=step),
        }[kind],
        st.integers(low, high),
        st.integers(1, 20),
        st.sampled_from(("", "", "range", "at least", "by eye", "about")),
    )


WEIGHTS = sized(Dimension.MASS, 1, 500, 1) | st.just(unweighed())
VOLUMES = sized(Dimension.VOLUME, 100, 5000, 100) | st.none()


def events() -> st.SearchStrategy[Event]:
    """Anything that may be done or seen."""
    return st.one_of(
        st.builds(
            lambda day, which: event(Deed.SOW, day, which, amount=counted(2), each=True), st.just(0), NAMED
        ),
        st.builds(
            lambda day, which, n: event(Deed.SPROUTED, day, which, amount=counted(n)),
            DAYS,
            NAMED,
            st.integers(0, 8),
        ),
        st.builds(
            lambda deed, day, tub, size, filled: event(
                deed, day, tub=tub, amount=size, filled=filled and size is None
            ),
            st.sampled_from((Deed.WATER, Deed.WATER, Deed.CHANGE)),
            DAYS,
            st.sampled_from(TUBS),
            VOLUMES,
            st.booleans(),
        ),
        st.builds(
            lambda deed, day, tub, size: event(deed, day, tub=tub, product="syrup", amount=size),
            st.sampled_from((Deed.FEED, Deed.ADJUST)),
            DAYS,
            st.sampled_from(TUBS),
            st.sampled_from((ml(9), exactly(2, Dimension.VOLUME_DOSE, 1), None)),
        ),
        st.builds(
            lambda deed, day, which: event(deed, day, which, tub="right"),
            st.sampled_from((Deed.LOST, Deed.MOVE, Deed.TRANSPLANT, Deed.PRUNE)),
            DAYS,
            st.sampled_from([joint("P1"), joint("P2"), joint("P3", "P4")]),
        ),
        st.builds(
            lambda day, which, n: event(Deed.THIN, day, which, amount=counted(n), each=True),
            DAYS,
            NAMED,
            st.integers(1, 3),
        ),
    )


def readings() -> st.SearchStrategy[Reading]:
    """Anything that may be read."""
    return st.one_of(
        st.builds(
            lambda day, plant, size: reading("height", day, size, (plant,)),
            DAYS,
            st.sampled_from(FOUR),
            sized(Dimension.LENGTH, 1, 60, 1),
        ),
        st.builds(
            lambda day, tub, size, moment: reading("ec", day, size, tub=tub, moment=moment),
            DAYS,
            st.sampled_from(TUBS),
            sized(Dimension.CONDUCTIVITY, 1, 3, 0.1),
            st.sampled_from(("", "before", "after")),
        ),
        st.builds(
            lambda day, size: reading("air_temperature", day, size, tub="left"),
            DAYS,
            sized(Dimension.TEMPERATURE, 15, 30, 1),
        ),
        st.builds(
            lambda day, size: reading("humidity", day, size, tub="left"),
            DAYS,
            sized(Dimension.SHARE, 30, 70, 1),
        ),
    )


STAGES = st.builds(
    lambda name, day, which, reached: milestone(name, day, which, reached=reached),
    st.sampled_from(("seed_leaves", "first_flower", "ripe")),
    SPANS,
    WHICH,
    st.booleans(),
)
LAMP = Lamp(
    "bar",
    "Bar",
    exactly(24, Dimension.POWER, 1),
    exactly(200, Dimension.PHOTON_FLUX, 10),
    exactly(30, Dimension.LENGTH, 1),
)
USE = LampUse(LAMP, exactly(16, Dimension.DURATION, 1), exactly(30, Dimension.LENGTH, 1))
LIGHTS = st.builds(
    lambda day, tub, use: Light(Day.on(day), day, place(1), tub, use),
    DAYS,
    st.sampled_from(TUBS),
    st.sampled_from((USE, replace(USE, off=True), replace(USE, hours=None))),
)
ROUTINES = st.builds(
    lambda day, often, tub: routine(day, often, ml(5), tub=tub),
    DAYS,
    st.sampled_from(("every refill", "every week", "every logged refill")),
    st.sampled_from(("", *TUBS)),
)
PICKS = st.builds(
    lambda day, which, weight, earlier, grade, count, spoilt: pick(
        day, which, weight, earlier=earlier, grade=grade, count=count, spoilt_weight=spoilt
    ),
    DAYS,
    WHICH,
    WEIGHTS,
    st.sampled_from(("", "", "", "included", "unclear")),
    st.sampled_from(("", "good", "poor")),
    st.sampled_from((None, 2)),
    st.none() | sized(Dimension.MASS, 0, 20, 1) | st.just(unweighed()),
)
TALLIES = st.builds(tally, DAYS, WEIGHTS, NAMED)

# A head with everything in it: two tubs with footprint and headroom, two varieties, a group, a packet, prices.
_HEAD = setup_of(tubs=TUBS, varieties=("amber", "rust"), groups=(("early", FOUR[:3]),))
_SIDES = (exactly(50, Dimension.LENGTH, 1), exactly(40, Dimension.LENGTH, 1))
HEAD = replace(
    _HEAD,
    tubs=tuple(replace(tub, system=replace(tub.system, footprint=_SIDES)) for tub in _HEAD.tubs),
    crop=replace(
        Crop("tomato", "Tomato", "fruiting", "Solanum lycopersicum", varieties=_HEAD.crop.varieties),
        price=Price(4.0, grams(1000)),
    ),
    seed=Seed(
        claims=Claims(Day.on(50), "sowing", exactly(30, Dimension.LENGTH, 1), exactly(85, Dimension.SHARE, 1))
    ),
    products=(replace(SYRUP, price=Price(10.0, ml(500))),),
)
PRICES = Prices("EUR", Price(0.3, exactly(1, Dimension.ENERGY)), Price(0.5, litres(1)))


def _placed(rows: list[Any], offset: int) -> list[Any]:
    """Rows each with a line of their own."""
    return [
        row._replace(source=place(offset + n))
        if hasattr(row, "_replace")
        else replace(row, source=place(offset + n))
        for n, row in enumerate(rows)
    ]


def made(**tables: list[Any]) -> Run:
    """A run with these tables."""
    placed = {name: _placed(rows, 1000 * n) for n, (name, rows) in enumerate(tables.items(), 1)}
    return run_of(HEAD, **placed)


RUNS = st.builds(
    made,
    events=st.lists(events(), max_size=12),
    readings=st.lists(readings(), max_size=8),
    picks=st.lists(PICKS, max_size=6),
    tallies=st.lists(TALLIES, max_size=2),
    milestones=st.lists(STAGES, max_size=6),
    lights=st.lists(LIGHTS, max_size=3),
    routines=st.lists(ROUTINES, max_size=1),
)
FEWER = settings(max_examples=settings().max_examples * 2 // 5)


def quantities(facts: Facts) -> Iterator[tuple[Figure, Quantity]]:
    """Every quantity that a figure has, in a rate or by itself."""
    for figure in figures(facts):
        parts = figure.value.values if isinstance(figure.value, Several) else (figure.value,)
        for part in parts:
            value = part.amount if isinstance(part, Rate) else part
            if isinstance(value, Quantity):
                yield figure, value


def sources(run: Run) -> set[Source]:
    """Every place that a row of the run stands at, and the head."""
    tables = (getattr(run.rows, each.name) for each in fields(Rows) if each.init)
    return {row.source for table in tables for row in table} | {run.setup.source}


@FEWER
@given(RUNS)
def test_every_value_is_an_interval(run: Run) -> None:
    """No value ends below where it begins; no step is negative; a share lies within its interval."""
    facts = measure(run, PRICES)
    found = list(quantities(facts))
    assert found
    for figure, value in found:
        assert value.high is None or value.low <= value.high + 1e-9, figure
        assert value.step >= 0, figure
        assert value.open >= 0 <= value.unweighed, figure
    for figure in figures(facts):
        if isinstance(figure.value, Share):
            assert figure.value.low <= figure.value.part / figure.value.whole <= figure.value.high
        if isinstance(figure.value, Money):
            assert figure.value.high is None or figure.value.low <= figure.value.high
        if isinstance(figure.value, Day):
            assert figure.value.first <= figure.value.last, figure


@FEWER
@given(RUNS)
def test_rows_are_rows_of_the_run(run: Run) -> None:
    """Figures lead to places of the run only, in their order and each once; what is recorded leads somewhere."""
    known = sources(run)
    for figure in figures(measure(run, PRICES)):
        assert set(figure.rows) <= known, figure
        assert list(figure.rows) == sorted(set(figure.rows))
        assert figure.rows or not figure.recorded or _nothing(figure.value), figure


def _nothing(value: object) -> bool:
    """Whether a value says that there was none, for which there is no row."""
    if isinstance(value, Several):
        return all(_nothing(each) for each in value.values)
    amount_ = value.amount if isinstance(value, Rate) else value
    return isinstance(amount_, Quantity) and amount_.low == 0 == amount_.high


@FEWER
@given(RUNS)
def test_every_row_is_behind_a_figure(run: Run) -> None:
    """Every pick, tally, filling, dose, sowing, count, stage and reading is behind the figures it belongs to."""
    facts = measure(run, PRICES)
    rows = run.rows
    assert {row.source for row in rows.picks} | {row.source for row in rows.tallies} == set(
        facts.harvest.total.rows
    )
    poured = {event.source for event in rows.of(Deed.WATER, Deed.CHANGE)}
    assert poured <= set(facts.solution.water.rows)
    fed = {source for tub in facts.solution.tubs for dosing in tub.doses for source in dosing.total.rows}
    assert {event.source for event in rows.of(Deed.FEED)} <= fed
    assert {event.source for event in rows.of(Deed.SOW)} == set(facts.germination.sown.rows)
    assert {event.source for event in rows.of(Deed.SPROUTED)} == set(facts.germination.sprouted.rows)
    stages = {source for stage in facts.milestones for source in stage.median.rows}
    assert {row.source for row in rows.milestones} == stages
    assert {row.source for row in rows.read("air_temperature")} == set(facts.climate.air.rows)
    assert {entry.source for entry in rows.entries} == set(facts.work.visits.rows)


@FEWER
@given(RUNS, st.randoms(use_true_random=False))
def test_rows_in_any_order_give_the_same_facts(run: Run, random: Any) -> None:
    """The facts do not depend on the order in which rows are handed over."""
    tables = {each.name: list(getattr(run.rows, each.name)) for each in fields(Rows) if each.init}
    for table in tables.values():
        random.shuffle(table)
    # Moves are told apart by the order of the log alone.
    tables["events"].sort(key=lambda e: (e.day, e.source) if e.deed is Deed.MOVE else (Day.on(-9), e.source))
    original = replace(
        run, rows=replace(run.rows, events=tuple(sorted(run.rows.events, key=lambda e: (e.day, e.source))))
    )
    turned = replace(run, rows=Rows(**{name: tuple(table) for name, table in tables.items()}))
    assert by_name(measure(turned, PRICES)) == by_name(measure(original, PRICES))


def with_rows(run: Run, **more: tuple[Any, ...]) -> Run:
    """The run with more rows in some tables."""
    grown: dict[str, Any] = {name: (*getattr(run.rows, name), *rows) for name, rows in more.items()}
    return replace(run, rows=replace(run.rows, **grown))


def unmeasured(line: int, amounts: bool) -> dict[str, tuple[Any, ...]]:
    """A late pick, filling and dose, with their amounts or without."""
    fed = event(Deed.FEED, 61, None, line + 2, tub="left", product="syrup", amount=ml(9) if amounts else None)
    poured = event(Deed.WATER, 61, None, line + 1, tub="left", amount=litres(1) if amounts else None)
    return {
        "picks": (pick(61, joint("P1"), grams(9) if amounts else unweighed(), line),),
        "events": (poured, fed._replace(entry=60)),
    }


@FEWER
@given(RUNS)
def test_an_unmeasured_record_only_opens(run: Run) -> None:
    """A pick, a filling and a dose that nobody measured keep every lower bound of their sums and end every upper one."""
    known = with_rows(run, **unmeasured(9001, amounts=True))
    more = with_rows(known, **unmeasured(9101, amounts=False))
    before, after = by_name(measure(known, PRICES)), by_name(measure(more, PRICES))
    names = ["harvest.total", "harvest.per_spot", "solution.water", "harvest.by_plant.P1"]
    names += ["solution.tubs.left.water", "solution.tubs.left.doses.syrup.total"]
    for name in names:
        assert amount(after[name]).low == amount(before[name]).low, name
        assert amount(after[name]).high is None, name
        assert amount(after[name]).unweighed == amount(before[name]).unweighed + 1, name


@FEWER
@given(RUNS)
def test_a_cost_that_is_not_known_opens_the_sum(run: Run) -> None:
    """The sum of costs has an upper bound where each of its parts has one, and no cost is "at least nothing"."""
    facts = measure(run, PRICES)
    costs = facts.harvest.costs
    parts = [figure.value for figure in (costs.electricity, costs.feed, costs.water)]
    closed = all(isinstance(part, Money) and part.high is not None for part in parts)
    if isinstance(costs.total.value, Money):
        assert (costs.total.value.high is not None) == closed
    for figure in figures(costs):
        if isinstance(figure.value, Money):
            assert (figure.value.low, figure.value.high) != (0, None), figure
        assert figure.recorded or figure.remarks, figure


@FEWER
@given(RUNS, st.sampled_from(("every refill", "every week", "on Mondays")), st.sampled_from(("", *TUBS)))
def test_a_routine_that_nobody_counted_opens_all_feed(run: Run, often: str, tub: str) -> None:
    """Visits with feed, doses and their cost are lower bounds or not known, and no drift is taken through a routine."""
    facts = measure(with_rows(run, routines=(routine(0, often, ml(5), line=9001, tub=tub),)), PRICES)
    fed = [each for each in facts.solution.tubs if tub in ("", each.key)]
    of_syrup = [dosing for each in fed for dosing in each.doses if dosing.product == "syrup"]
    opened = [facts.work.feedings, facts.harvest.costs.feed]
    opened += [figure for dosing in of_syrup for figure in (dosing.total, dosing.times)]
    for figure in opened:
        assert figure.value is None or (
            isinstance(figure.value, Quantity | Money) and figure.value.high is None
        )
        assert {said.code for said in figure.remarks} & {"feed_by_routine", "feed_at_unlogged_refills"}, (
            figure
        )
    assert "no_feed" not in {said.code for figure in figures(facts) for said in figure.remarks}
    assert [each.trend.ec.value for each in fed] == [None] * len(fed)
    total_ = facts.harvest.costs.total.value
    assert total_ is None or (isinstance(total_, Money) and total_.high is None)


FLAGS = st.sampled_from(("about", "by_eye"))


@FEWER
@given(RUNS, FLAGS)
def test_a_flag_of_one_record_reaches_all_that_it_goes_into(run: Run, flag: str) -> None:
    """A later pick, filling, height and reading of air that are about, or by eye, make their sums and ranges so."""
    flags: dict[str, Any] = {flag: True}
    more = with_rows(
        run,
        picks=(pick(61, joint("P1"), grams(9, **flags), 9001),),
        events=(event(Deed.WATER, 61, None, 9002, tub="left", amount=replace(litres(1), **flags)),),
        readings=(
            reading("height", 61, replace(exactly(70, Dimension.LENGTH, 1), **flags), ("P1",), 9003),
            reading(
                "air_temperature",
                61,
                Quantity(20, 20, Dimension.TEMPERATURE, step=1, **flags),
                (),
                9004,
                tub="left",
            ),
        ),
    )
    facts = measure(more, PRICES)
    harvest, left = facts.harvest, facts.solution.tubs[0]
    sums = [harvest.total, harvest.per_spot, harvest.by_plant[0].figure, left.water, facts.solution.water]
    sums += [facts.climate.air, facts.growth.tallest]
    # A plant of which only "at least" is known may have left less room than the one of the flag.
    if all(point.value.high is not None for point in facts.growth.heights):
        sums.append(facts.growth.headroom)
    assert [getattr(amount(figure), flag) for figure in sums] == [True] * len(sums)
    rates = [harvest.per.day, harvest.per.litre, harvest.per.square_metre]
    found = [figure.value for figure in rates if isinstance(figure.value, Rate)]
    assert [getattr(each.amount, flag) for each in found] == [True] * len(found)
    assert isinstance(harvest.costs.value.value, Money)
    assert harvest.costs.value.value.about == (amount(harvest.total).about or amount(harvest.total).by_eye)


def breakdowns(harvest: Harvest) -> Iterator[tuple[str, list[Figure]]]:
    """Each breakdown of a harvest with its remainder, found by the names of its fields."""
    for each in fields(harvest):
        if each.name.startswith("by_") and (rows := getattr(harvest, each.name)):
            found = [named.figure for named in rows]
            yield each.name, [*found, harvest.shared] if each.name == "by_plant" else found


def weighed(figure: Figure) -> Quantity:
    """The weight of a row: any where it may have a share of a weight without limit, none where nothing was picked."""
    if figure.value is None:
        nothing = remark("nothing_picked_yet") in figure.remarks
        return Quantity(0.0, 0.0 if nothing else None, Dimension.MASS)
    return amount(figure)


@given(RUNS)
def test_rows_of_a_breakdown_can_make_up_every_total(run: Run) -> None:
    """For each total in its interval some weights within those of the rows add up to it; exact rows never exceed it."""
    harvest = measure(run, PRICES).harvest
    assume(harvest.total.recorded)
    whole = amount(harvest.total)
    names = [name for name, _ in breakdowns(harvest)]
    assert {"by_plant", "by_group", "by_variety", "by_tub"} <= set(names)
    for name, rows in breakdowns(harvest):
        found = [weighed(figure) for figure in rows]
        assert sum(q.low for q in found) <= whole.low + 1e-6, name
        highs = [q.high for q in found if q.high is not None]
        assert len(highs) < len(found) or (whole.high is not None and sum(highs) >= whole.high - 1e-6), name
        assert sum(q.low for q in found if q.single) <= whole.low + 1e-6, name


@FEWER
@given(RUNS)
def test_rows_of_weighed_picks_leave_nothing_out(run: Run) -> None:
    """Of exact picks that hold no others the least of all rows and their remainder is the total."""
    apart = [replace(p, earlier="", weight=grams(p.weight.low)) for p in run.rows.picks]
    assume(apart)
    bare = replace(run, rows=replace(run.rows, picks=tuple(apart), tallies=()))
    harvest = measure(bare, PRICES).harvest
    for name, rows in breakdowns(harvest):
        assert sum(weighed(figure).low for figure in rows) == pytest.approx(amount(harvest.total).low), name


@FEWER
@given(RUNS)
def test_a_later_run_never_loses_what_it_had(run: Run) -> None:
    """One more pick, filling and sowing make no sum smaller."""
    more = with_rows(
        run,
        picks=(pick(61, ALL, grams(5), 9001),),
        events=(
            event(Deed.WATER, 61, None, 9002, tub="left", amount=litres(1)),
            event(Deed.SOW, 61, joint("P1"), 9003, amount=counted(1)),
        ),
    )
    before, after = by_name(measure(run, PRICES)), by_name(measure(more, PRICES))
    for name in ("harvest.total", "solution.water", "germination.sown", "harvest.picks", "solution.refills"):
        if isinstance(before[name].value, Quantity):
            assert amount(after[name]).low >= amount(before[name]).low
    assert amount(after["harvest.picks"]).low == amount(before["harvest.picks"]).low + 1


@FEWER
@given(RUNS)
def test_a_stage_is_reached_by_as_many_as_were_seen(run: Run) -> None:
    """A stage's share, its curve and its first day agree: none without an arrival, and no first day after the median."""
    assume(run.rows.milestones)
    for stage in measure(run, PRICES).milestones:
        share, first, median = stage.share.value, stage.first.value, stage.median.value
        if isinstance(share, Share):
            assert (share.part > 0) <= isinstance(first, Day)
            arrived = [a for a in stage.arrivals if a.day]
            unknown = len(stage.in_state("unknown"))
            assert not stage.arrivals or (share.part, share.whole) == (len(arrived), 4 - unknown)
        if isinstance(median, Day):
            assert isinstance(first, Day)
            assert stage.interval.value is None  # four plants are too few


def strong(ec: float) -> Quantity:
    """An EC to a tenth."""
    return exactly(ec, Dimension.CONDUCTIVITY, 0.1)


def test_a_random_run_has_it_all() -> None:
    """The head of the random runs has what every figure needs: a full log leaves hardly a figure empty."""
    rows: dict[str, list[Any]] = {
        "events": [
            event(Deed.SOW, 0, ALL, amount=counted(2), each=True),
            event(Deed.SPROUTED, 4, ALL, amount=counted(0)),
            event(Deed.SPROUTED, 6, ALL, amount=counted(7)),
            event(Deed.TRANSPLANT, 9, ALL),
            event(Deed.THIN, 12, joint("P1"), amount=counted(2), each=True),
            *(event(Deed.WATER, day, tub=tub, amount=litres(2)) for day in (9, 20, 30, 40) for tub in TUBS),
            *(
                event(Deed.FEED, day, tub=tub, product="syrup", amount=ml(2))
                for day in (9, 20)
                for tub in TUBS
            ),
            event(Deed.END, 60, kept=False),
        ],
        "readings": [
            *(reading("height", day, exactly(day, Dimension.LENGTH, 1), FOUR) for day in (10, 20)),
            *(
                reading("ec", day, exactly(1 + day / 30, Dimension.CONDUCTIVITY, 0.1), tub=tub)
                for day in (22, 25)
                for tub in TUBS
            ),
            reading("air_temperature", 9, exactly(20, Dimension.TEMPERATURE, 1), tub="left"),
            reading("humidity", 9, exactly(60, Dimension.SHARE, 1), tub="left"),
        ],
        "picks": [
            pick(50 + n, joint(plant), grams(9), grade="good", count=2, spoilt=1, spoilt_weight=grams(2))
            for n, plant in enumerate(FOUR)
        ],
        "milestones": [milestone("seed_leaves", 8, ALL), milestone("first_flower", 40, ALL)],
        "lights": [Light(Day.on(0), None, place(1), tub, USE) for tub in TUBS],
    }
    empty = {figure.name for figure in figures(measure(made(**rows), PRICES)) if not figure.recorded}
    sheet = {f"climate.tubs.{tub}.degree_days" for tub in TUBS} | {"climate.leaf_vpd", "climate.water"}
    unread = {"growth.widest", "growth.most_leaves", "growth.rate.height.plateau"}
    without = {
        f"solution.tubs.{tub}.{name}" for tub in TUBS for name in ("ph", "trend.ph", "trend.ph_within")
    }
    # Seedlings were counted over all spots.
    pairs = ("by_tub.left", "by_tub.right", "by_variety.amber", "by_variety.rust")
    parts = {
        f"sets.{each}.{name}" for each in (*pairs, "by_group.early") for name in ("germination", "emergence")
    }
    parts |= {f"sets.{each}.harvest.{name}" for each in pairs for name in ("mean", "deviation")}
    # Its plants stand in tubs with others.
    parts |= {f"sets.by_group.early.picks.{name}" for name in ("square_metre", "litre", "kilowatt_hour")}
    few = {f"milestones.{stage}.interval" for stage in ("seed_leaves", "first_flower")}
    assert empty <= sheet | unread | without | few | parts | {"milestones.seed_leaves.since_before"}


def test_what_is_unknown_is_not_nothing() -> None:
    """A pick of unknown weight and no pick at all are told apart."""
    assert measure(run_of(picks=[pick(9, joint("P1"), unweighed())])).harvest.total.value == unknown(
        Dimension.MASS
    )
    assert measure(run_of()).harvest.total.value is None
