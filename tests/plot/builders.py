"""Facts put together by hand for the charts' tests: an invented run of leaf lettuce in one tub or two."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date
from xml.etree import ElementTree as ET

from sitegen.core.facts.figure import Figure, Label
from sitegen.core.facts.indices import DailyRange, GrowthRates
from sitegen.core.facts.tree import (
    Arrival,
    Climate,
    CountStep,
    CumulativePoint,
    Facts,
    Fate,
    Germination,
    Growth,
    Harvest,
    MilestoneFacts,
    PlantFacts,
    PlotPoint,
    RoutineFacts,
    Solution,
    Timeline,
    TubFacts,
    Work,
)
from sitegen.core.findings.source import Source
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Deed, Event, Rows, Run, Which
from sitegen.core.records.setup import Crop, LampUse, Plant, Setup, System, Tub
from sitegen.core.records.tables import event_of
from sitegen.core.site.chart import Chart, Drawing
from sitegen.core.values.day import Day, DayAxis, Start
from sitegen.core.values.quantity import Quantity, exactly, total
from sitegen.core.values.units import Dimension
from sitegen.measure.growth.growth import largest_reading
from sitegen.plot import chart_of, charts_with_data
from sitegen.plot.drawing.draw import ToDraw, drawings
from sitegen.plot.scale import Units

SVG = "{http://www.w3.org/2000/svg}"
HERE = Source("experiment.yaml")
NOTHING = Figure("", None, "")
EMPTY_CLIMATE = Climate(NOTHING, NOTHING, NOTHING, NOTHING)
NO_RATES = GrowthRates()
DATED = Start(date(2025, 9, 14), "day")
SYSTEM = System("slate-tub", "Slate tub")


def cm(value: float, *, about: bool = False, by_eye: bool = False) -> Quantity:
    """A height."""
    return Quantity(value, value, Dimension.LENGTH, about, by_eye)


def g(value: float) -> Quantity:
    """A weight."""
    return exactly(value, Dimension.MASS)


def ml(value: float, *, about: bool = False) -> Quantity:
    """A volume."""
    return Quantity(value, value, Dimension.VOLUME, about=about)


def say(quantity: Quantity) -> str:
    """A quantity in words, as short as the tests need it."""
    if not quantity.known:
        return "not measured"
    size = (
        f"{quantity.low:g}"
        if quantity.single
        else f"{quantity.low:g}-{quantity.high:g}"
        if quantity.high
        else ""
    )
    flags = "about " * quantity.about + "at least " * (quantity.high is None)
    by_eye = " by eye" * quantity.by_eye
    return f"{flags}{size or f'{quantity.low:g}'} {quantity.unit}{by_eye}"


def setup(plants: int = 6, tubs: tuple[str, ...] = ("tub",), start: Start = DATED) -> Setup:
    """Plants P1 and on, shared out over the tubs in order; the odd ones are a group."""
    per_tub = -(-plants // len(tubs))
    grown = tuple(
        Plant(f"P{n + 1}", n + 1, tubs[n // per_tub], "emberfrill", (), HERE) for n in range(plants)
    )
    odd = tuple(plant.id for plant in grown[::2])
    return Setup(
        id="invented",
        season="2025-autumn",
        source=HERE,
        title="An invented run",
        crop=Crop("lettuce", "Lettuce", "leafy"),
        start=start,
        plants=grown,
        tubs=tuple(Tub(tub, SYSTEM) for tub in tubs),
        groups=(("odd", odd),) if plants > 2 else (),
    )


def point(day: int | Day, subject: str, value: Quantity, line: int = 0, at: str = "") -> PlotPoint:
    """A reading; readings of one line of the log were written together."""
    on = Day.on(day) if isinstance(day, int) else day
    source = (
        Source("experiment.yaml", line) if line else Source("experiment.yaml", on.first, column_of(subject))
    )
    return PlotPoint(on, subject, value, source, at)


def column_of(subject: str) -> int:
    """A column for a subject, the same in every process."""
    return sum(map(ord, subject))


def together(day: int, plants: Iterable[str], value: Quantity) -> tuple[PlotPoint, ...]:
    """One value written for several plants at once."""
    return tuple(point(day, plant, value, line=900 + day) for plant in plants)


def read(day: int, name: str, value: Quantity, tub: str = "tub", moment: str = "") -> PlotPoint:
    """A reading of air or water, or of a solution."""
    return PlotPoint(Day.on(day), tub, value, Source("experiment.yaml", day), name, moment)


def ms(value: float) -> Quantity:
    """An EC."""
    return exactly(value, Dimension.CONDUCTIVITY)


def acid(value: float) -> Quantity:
    """A pH."""
    return exactly(value, Dimension.ACIDITY)


def hours(value: float) -> Quantity:
    """A time of light."""
    return exactly(value, Dimension.DURATION)


def degrees(value: float) -> Quantity:
    """A temperature."""
    return exactly(value, Dimension.TEMPERATURE)


def sampled(first: int, last: int, middle: float, *, without: tuple[int, ...] = ()) -> tuple[DailyRange, ...]:
    """Days of a sensor: two below and three above a mean that never moves."""
    return tuple(
        DailyRange(day, middle - 2, middle, middle + 3, 24)
        for day in range(first, last + 1)
        if day not in without
    )


def lamp(day: int, use: LampUse, tub: str = "tub") -> Light:
    """A setting of a lamp."""
    return Light(Day.on(day), None, HERE, tub, use)


def event(deed: Deed, day: int, what: str = "", plants: tuple[str, ...] = ()) -> Event:
    """Something done or seen."""
    which = Which(plants) if plants else None
    return event_of(deed, day=Day.on(day), entry=0, source=HERE, which=which, what=what)


def stage(noun: str, arrivals: tuple[Arrival, ...] = (), steps: tuple[CountStep, ...] = ()) -> MilestoneFacts:
    """A stage, by plant or by counts."""
    name = noun.replace(" ", "_")
    return MilestoneFacts(name, "", NOTHING, NOTHING, NOTHING, arrivals, steps)


def arrived(plant: str, day: int, after: int | None = None) -> Arrival:
    """A plant seen in a stage, perhaps after a look that said not yet."""
    return Arrival(plant, Day.on(day), None if after is None else Day.on(after), Day.on(58), HERE)


def waiting(plant: str, look: int) -> Arrival:
    """A plant that had not reached a stage when it was last looked at."""
    return Arrival(plant, None, None, Day.on(look))


def step(day: int | Day, count: int, of: int | None) -> CountStep:
    """So many of so many by a day."""
    return CountStep(Day.on(day) if isinstance(day, int) else day, count, of, HERE)


def plant_facts(plant: str, fate: Fate) -> PlantFacts:
    """A plant of which only its fate matters."""
    return PlantFacts(plant, "emberfrill", "tub", (), Day.on(0), fate, None, NOTHING, ())


def picks(*found: tuple[int, str, Quantity]) -> tuple[CumulativePoint, ...]:
    """Picks with the total so far."""
    weights = [weight for _, _, weight in found]
    return tuple(
        CumulativePoint(Day.on(day), weight, total(weights[: n + 1], Dimension.MASS), part, HERE)
        for n, (day, part, weight) in enumerate(found)
    )


def tallest_of(heights: Sequence[PlotPoint]) -> Figure:
    """The tallest plant, as the stage before the charts has it."""
    found = largest_reading([p for p in heights if p.value.known and not p.at] or heights)
    return Figure("growth.tallest", found.value, "largest_reading", (found.source,)) if found else NOTHING


def facts(
    run_setup: Setup | None = None,
    *,
    last: int = 58,
    heights: tuple[PlotPoint, ...] = (),
    harvest: tuple[CumulativePoint, ...] = (),
    water: tuple[PlotPoint, ...] = (),
    feed: tuple[PlotPoint, ...] = (),
    routines: tuple[RoutineFacts, ...] = (),
    ec: tuple[PlotPoint, ...] = (),
    ph: tuple[PlotPoint, ...] = (),
    milestones: tuple[MilestoneFacts, ...] = (),
    fates: dict[str, Fate] | None = None,
    rows: Rows | None = None,
    climate: Climate = EMPTY_CLIMATE,
    rate: GrowthRates = NO_RATES,
) -> Facts:
    """Facts with what a chart reads, and nothing else recorded."""
    used = run_setup or setup()
    tubs = tuple(
        TubFacts(
            tub.id,
            f"{tub.id.title()} tub" if len(used.tubs) > 1 else tub.system.name,
            tub.system,
            NOTHING,
            NOTHING,
            NOTHING,
            NOTHING,
            NOTHING,
        )
        for tub in used.tubs
    )
    return Facts(
        run=Run(used, rows or Rows()),
        axis=DayAxis.covering(last, used.start),
        length=NOTHING,
        last_entry=NOTHING,
        timeline=Timeline((), ()),
        germination=Germination(NOTHING, NOTHING, NOTHING, NOTHING),
        milestones=milestones,
        growth=Growth(tallest_of(heights), NOTHING, NOTHING, NOTHING, heights=heights, rate=rate),
        harvest=Harvest(
            NOTHING, NOTHING, NOTHING, NOTHING, NOTHING, NOTHING, NOTHING, NOTHING, cumulative=harvest
        ),
        solution=Solution(
            NOTHING, NOTHING, tubs=tubs, routines=routines, added=water, fed=feed, ec=ec, ph=ph
        ),
        climate=climate,
        plants=tuple(plant_facts(plant, fate) for plant, fate in (fates or {}).items()),
        work=Work(NOTHING, NOTHING, NOTHING, NOTHING),
    )


def whole_run(start: Start = DATED) -> Facts:
    """One tub, every chart, every flag."""
    plants = tuple(f"P{n}" for n in range(1, 7))
    unmeasured = Quantity(0.0, None, Dimension.VOLUME, unweighed=1)
    unweighed = Quantity(0.0, None, Dimension.MASS, unweighed=1)
    later = {
        24: (6, 6, 5, 7, 2, 7),
        31: (9, 10, 8, 11, 4, 10),
        40: (14, 13, 12, 15, 9, 12),
        54: (19, 18, 18, 16, 14, 15),
    }
    heights = (
        *together(12, plants, cm(2.5, about=True)),
        *(
            point(day, plant, cm(h))
            for day, row in later.items()
            for plant, h in zip(plants, row, strict=True)
        ),
        point(47, "P4", Quantity(15, 17, Dimension.LENGTH)),
        point(47, "P5", cm(11, by_eye=True)),
        point(47, "P1", Quantity(16, None, Dimension.LENGTH, open=1)),
    )
    return facts(
        setup(start=start),
        heights=heights,
        harvest=picks(
            (31, "leaf", g(46)), (38, "leaf", g(72)), (45, "leaf", unweighed),
            (52, "leaf", g(87)), (58, "leaf", g(124)),
        ),
        water=(
            point(0, "tub", ml(12000)), point(17, "tub", ml(1000)), point(24, "tub", ml(1500, about=True)),
            point(29, "tub", unmeasured), point(36, "tub", ml(2000)),
            point(42, "tub", Quantity(2500, 3500, Dimension.VOLUME)), point(49, "tub", ml(3000)),
            point(52, "tub", ml(2000)),
        ),
        feed=(
            point(7, "keel-a", ml(15)), point(7, "keel-b", ml(15)), point(29, "keel-a", ml(20, about=True)),
            point(29, "keel-b", ml(20)), point(42, "keel-b", unmeasured), point(50, "keel-a", ml(25)),
        ),
        routines=(
            RoutineFacts("feed", Label("Brook Leaf"), "", ml(5), False, "every refill", Day.on(7), Day.on(42), HERE),
        ),
        ec=(read(20, "", ms(1.1)), read(30, "", ms(1.9), moment="before"), read(30, "", ms(1.4), moment="after")),
        ph=(read(20, "", acid(6.4)), read(44, "", acid(5.9))),
        milestones=(
            stage("seed leaves open", steps=(step(4, 4, 6), step(6, 6, 6))),
            stage("rosette", (*(arrived(p, 24 + n, 20) for n, p in enumerate(plants[:5])), waiting("P6", 47))),
        ),
        fates={"P6": Fate("lost", Day.on(48), "rot at the collar")},
        rows=Rows(
            lights=(lamp(0, LampUse(hours=hours(16))), lamp(28, LampUse(hours=hours(12)))),
            events=(event(Deed.TROUBLE, 26, "thrips"), event(Deed.PRUNE, 36, "lowest leaves")),
        ),
        climate=Climate(
            NOTHING, NOTHING, NOTHING, NOTHING,
            readings=(read(20, "water_temperature", degrees(19)), read(33, "water_temperature", degrees(21)),
                read(20, "ppfd", exactly(210, Dimension.PHOTON_FLUX, 1))),
            air_daily=sampled(0, 58, 21, without=(30, 31)),
            humidity_daily=sampled(0, 58, 60),
            vpd_daily=sampled(0, 58, 2),
        ),
    )  # fmt: skip


def two_tubs() -> Facts:
    """Two tubs of three plants each, with a long gap between readings."""
    grown = setup(tubs=("left", "right"))
    heights = {20: (4, 3, 4, 3, 4, 3), 36: (18, 16, 19, 15, 17, 14), 62: (31, 28, 34, 24, 27, 22)}
    return facts(
        grown,
        last=64,
        heights=tuple(
            point(day, plant, cm(height))
            for day, row in heights.items()
            for plant, height in zip(grown.plant_ids, row, strict=True)
        ),
        water=(point(0, "left", ml(11000)), point(0, "right", ml(9000)), point(20, "left", ml(2000))),
        feed=(point(20, "left", ml(5), at="keel-a"), point(20, "right", ml(8), at="keel-a")),
    )


def charts(run: Facts, units: Units = "metric") -> dict[str, Chart]:
    """The charts by name, drawn though they have few readings."""
    return {
        kind.name: chart_of(kind.name, data, *drawings([ToDraw(kind.specification, data, run.axis)], None)[0])
        for kind, data in charts_with_data(run, units, say)
    }


def document(drawn: Drawing) -> str:
    """A drawing by itself."""
    view = f"0 0 {drawn.width} {drawn.height}"
    return f'<svg xmlns="{SVG.strip("{}")}" viewBox="{view}">{drawn.elements()}</svg>'


def drawing(drawn: Drawing) -> ET.Element:
    """A drawing as a tree."""
    return ET.fromstring(document(drawn))  # noqa: S314 - our own drawing


def layer(drawn: Drawing, name: str) -> list[ET.Element]:
    """The marks of one layer, each with what its group says of all; of lines that are one path, each line."""
    found = [each for each in drawing(drawn).iter() if each.get("class") == name]
    marks = [mark for each in found for mark in (_ungrouped(each) if each.tag == f"{SVG}g" else [each])]
    return [line for mark in marks for line in _lines(mark)]


def _ungrouped(group: ET.Element) -> list[ET.Element]:
    for mark in group:
        mark.attrib = {**group.attrib, **mark.attrib}
    return list(group)


def _lines(mark: ET.Element) -> list[ET.Element]:
    """A path that breaks off, piece by piece; anything else as it is."""
    if mark.tag != f"{SVG}path" or "transform" in mark.attrib or list(mark):
        return [mark]
    pieces = mark.attrib["d"].removeprefix("M").split("M")
    return [ET.Element(mark.tag, {**mark.attrib, "d": f"M{piece}"}) for piece in pieces]


def pieces(drawn: Drawing, name: str) -> list[str]:
    """The lines of one layer, each as its corners."""
    return [line.get("d", "").removeprefix("M") for line in layer(drawn, name)]


def extents(drawn: Drawing, name: str) -> list[float]:
    """How long the level or upright lines of one layer are; below 0 where they run to the left or upwards."""
    return [float(re.split("[hv]", line.get("d", ""))[1]) for line in layer(drawn, name)]


def texts(drawn: Drawing, name: str) -> list[str]:
    """The texts of one layer."""
    return ["".join(mark.itertext()) for mark in layer(drawn, name)]


def hovers(drawn: Drawing, name: str) -> list[str]:
    """What the marks of one layer say on hover."""
    return [mark.findtext(f"{SVG}title", "") for mark in layer(drawn, name)]


def places(drawn: Drawing, name: str) -> list[tuple[float, float]]:
    """Where the marks of one layer stand, from the drawing's upper left corner."""
    found = [_place(mark) for mark in layer(drawn, name)]
    return [(round(drawn.left + x, 2), round(drawn.top + y, 2)) for x, y in found]


def _place(mark: ET.Element) -> tuple[float, float]:
    """The middle of a circle, where a text is anchored, where a symbol is moved to, or where a line begins."""
    for x, y in (("cx", "cy"), ("x", "y")):
        if x in mark.attrib:
            return float(mark.attrib[x]), float(mark.attrib[y])
    found = re.match(r"(?:translate\(|M)([-\d.]+),([-\d.]+)", mark.get("transform") or mark.get("d", ""))
    assert found is not None
    return float(found[1]), float(found[2])
