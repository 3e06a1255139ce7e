"""Everything that a log holds as numbers, each with its day and the words that it is spoken of with.

In: facts. Out: `Holding`s: the figures, the records that they were made from, and what the set-up says.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from sitegen.core.facts.figure import Figure, Rate, Share, figures
from sitegen.core.facts.tree import Facts
from sitegen.core.findings.finding import Source
from sitegen.core.language.figure_words import remarks_words
from sitegen.core.records.arms import sets_of
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Deed, Pick, SeedlingCount, Tasting, Thinning, Watering, Which
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.notes.check.claims import Kind

# Words by what they are about: English and German beginnings of words.
_SUBJECTS = {
    "harvest": "pick picks picked cut harvest gave given yield total weigh produc gather made altogether ernt gepflückt "
    "wog ergab gegeben gesamt insgesamt",
    "first": "first erste",
    "height": "tall height high stood hoch höhe grösst größt",
    "water": "water drank drink refill top wasser trank getrunken nachgefüllt",
    "feed": "feed fed fertil dünge düng nährlösung",
    "power": "power current electric kilowatt watt consum strom energie verbrauch",
    "lamp": "lamp light bar panel licht leuchte",
    "seeds": "up seed sprout germin came seedling same samen gekeimt keim aufgegangen",
    "taste": "taste tast bitter sweet geschmack schmeck",
    "lost": "lost die died dead surviv eingegangen verloren überleb",
    "temperature": "hot heat warm degree temperature hit cold heiss heiß grad temperatur",
    "claim": "packet claim promise ahead tüte packung verspr",
    "transplant": "transplant moved tub umgesetzt gesetzt wanne",
    "sowing": "sow sown seed gesät aussaat saat",
    "move": "move moved umgestellt umgesetzt",
    "trouble": "trouble rot mould mold mildew root pest wurzel schimmel",
    "spoilt": "spoil spoilt rotten mushy verdorben faul",
    "end": "end ended clear finish stopp beendet ende",
    "hours": "hour hours timer stunde",
    "ec": "ec", "ph": "ph",
    "plants": "plant pflanz",
    "flower": "flower bloom blüh blüte",
    "bud": "bud knosp",
    "ripe": "ripe ripen red reif",
    "colour": "colour color turn turned farbe verfärbt",
    "fruit": "fruit frucht früchte",
    "rosette": "rosette rosett",
    "bolting": "bolt schoss geschoss",
    "head": "head kopf",
    "pod": "pod hülse schote",
    "leaf": "leaf leaves blatt blätter",
    "cost": "cost euro money dollar kost",
    "average": "average averag mean durchschnitt mittel",
}  # fmt: skip
_STEMS = tuple((stem, subject) for subject, stems in _SUBJECTS.items() for stem in stems.split())
_WORD = re.compile(r"[^\W_]+")
# By parts of the names of figures.
_OF_NAMES = {
    "harvest": "harvest", "germination": "seeds", "sprouted": "seeds", "sown": "seeds", "growth": "height",
    "tallest": "height", "water": "water", "uptake": "water", "doses": "feed", "energy": "power", "costs": "cost",
    "electricity": "power", "air": "temperature", "lost": "lost", "spoilt": "spoilt", "first_pick": "first",
    "from_transplant": "transplant", "from_sowing": "sowing", "light_hours": "hours", "ec": "ec", "ph": "ph",
    "length": "end", "first_flower": "flower", "flower_bud": "bud", "first_colour": "colour", "first_fruit": "fruit",
    "mean": "average",
}  # fmt: skip
_MADE_IT = re.compile(r"\bmade it\b", re.IGNORECASE)
# Figures whose range is of values that lie apart, not of one that is not known exactly: only their ends were measured.
_SPREAD = re.compile(r"climate\.(?:air|humidity|water|vpd|leaf_vpd)|.*\.(?:ec|ph|ppm|range|deviation)")
# Figures that say how sure another is, or that nobody says aloud.
_UNSPOKEN = re.compile(
    r".*\.(?:interval|values|since_before|variation|synchrony|uncertainty|relative.*|plateau.*)"
)
# What a sentence without more is about.
_MAIN = (
    "harvest.total", "germination.share", "growth.tallest", "solution.water", "climate.energy", "harvest.first_pick",
    "harvest.timing.from_sowing", "harvest.timing.claim", "length",
)  # fmt: skip
_STAGES = {"seed_leaves": ("leaf",), "ripe": ("ripe", "fruit"), "first_true_leaf": ("leaf", "first")}
_MOST_PAIRS = 60  # of days between two events


@dataclass(frozen=True, slots=True)
class Holding:
    """A number of the log: `low` to `high`, None where nothing bounds it; of a part of a whole, `whole`.

    `about` are its subjects and the names that it is of. `limits` say why it is a bound. `said` names it in words.
    `spread`: only the ends of the range were measured. `main`: what a sentence is about that says no more. `rate`: for
    each day, plant and the like.
    """

    kind: Kind
    low: float
    high: float | None
    said: str
    about: frozenset[str]
    dimension: Dimension | None = None
    day: Day | None = None
    whole: float | None = None
    limits: str = ""
    spread: bool = False
    main: bool = False
    rate: bool = False
    sources: tuple[Source, ...] = ()

    @property
    def bound(self) -> bool:
        """Whether it is a lower bound."""
        return self.high is None


def subjects_of(text: str) -> frozenset[str]:
    """What a text is about: its subjects, and each of its words as it may be a name."""
    text = _MADE_IT.sub("survived", text)
    words = [word.lower() for word in _WORD.findall(text)]
    subjects = {subject for word in words for stem, subject in _STEMS if _is(word, stem)}
    plants = {
        f"p{number}" for number in re.findall(r"\b(?:plants?|pflanzen?|P) ?(\d+)\b", text, re.IGNORECASE)
    }
    return frozenset({*subjects, *plants, *(f"={word}" for word in words)})


def _is(word: str, stem: str) -> bool:
    return word == stem if len(stem) < 4 else word.startswith(stem)


@dataclass(frozen=True)
class _Names:
    """The names of a run's groups, varieties and tubs, as they may be spoken."""

    facts: Facts

    def of(self, plants: Iterable[str]) -> frozenset[str]:
        """The plants, and each set that holds all of them."""
        ids = tuple(plants)
        if not ids:
            return frozenset()
        found = {f"p{plant[1:]}" for plant in ids if len(ids) <= 3}
        for kind, split in sets_of(self.facts.run.setup).items():
            for key, members in split.items():
                if set(ids) <= set(members):
                    name = self.facts.run.setup.variety_name(key) if kind == "varieties" else key
                    found |= {f"={word.lower()}" for word in _WORD.findall(name)}
        return frozenset(found)


def holdings_of(facts: Facts) -> tuple[Holding, ...]:
    """Every number of a run."""
    names = _Names(facts)
    found = [
        *_of_figures(facts),
        *_of_picks(facts, names),
        *_of_readings(facts, names),
        *_of_events(facts),
        *_of_stages(facts, names),
        *_of_setup(facts),
        *_of_days(facts, names),
    ]
    return tuple(found)


def _amount(value: Quantity, said: str, about: Iterable[str], day: Day | None, *sources: Source) -> Holding:
    return Holding(
        "amount", value.low, value.high, said, frozenset(about), value.dimension, day, sources=sources
    )


def _of_figures(facts: Facts) -> Iterator[Holding]:
    named = _names_of_sets(facts)
    for figure in figures(facts):
        if _UNSPOKEN.fullmatch(figure.name):
            continue
        parts = figure.name.split(".")
        about = {_OF_NAMES[part] for part in parts if part in _OF_NAMES}
        about |= {"claim"} if parts[-1] == "claim" else set()
        about |= {subject for part in parts for subject in _STAGES.get(part, ())}
        about |= {f"={word}" for part in parts for word in named.get(part, ())}
        about |= {f"p{part[1:]}" for part in parts if re.fullmatch(r"P\d+", part)}
        said = figure.name.replace("_", " ").replace(".", ", ")
        held = _of_value(figure, said, frozenset(about))
        if held is not None:
            yield replace(
                held,
                limits=remarks_words(figure.remarks),
                spread=bool(_SPREAD.fullmatch(figure.name)),
                main=figure.name in _MAIN,
                rate=isinstance(figure.value, Rate),
                sources=figure.rows,
            )


def _names_of_sets(facts: Facts) -> dict[str, list[str]]:
    """The words of groups, varieties and tubs, of products and parts, by the key that a figure's path has."""
    setup = facts.run.setup
    keys = {key: key for key, _ in setup.groups} | {tub.id: tub.id for tub in setup.tubs}
    keys |= {variety: setup.variety_name(variety) for variety in setup.variety_ids}
    keys |= {product.id: product.name for product in setup.products}
    keys |= {pick.part: pick.part for pick in facts.run.rows.picks if pick.part}
    return {key: [word.lower() for word in _WORD.findall(name)] for key, name in keys.items()}


def _of_value(figure: Figure, said: str, about: frozenset[str]) -> Holding | None:
    value = figure.value
    if isinstance(value, Rate):
        value = value.amount
    if isinstance(value, Quantity) and value.known:
        kind: Kind = "count" if value.dimension is Dimension.COUNT else "amount"
        low, high = value.low, value.high
        if high is not None and high < 0:  # days before those claimed: early and late are said as so many
            low, high = -high, -low
        return Holding(kind, low, high, said, about, value.dimension)
    if isinstance(value, Share):
        return Holding("part", value.part, value.part, said, about, whole=value.whole)
    if isinstance(value, Day):
        return Holding("day", value.first, value.last, said, about, day=value)
    return None


def _of_picks(facts: Facts, names: _Names) -> Iterator[Holding]:
    by_day: dict[Day, list[Pick]] = {}
    for pick in facts.run.rows.picks:
        by_day.setdefault(pick.day, []).append(pick)
        if pick.weight.known:
            about = {"harvest", *names.of(pick.which.ids), *_part(pick.part)}
            yield _amount(pick.weight, f"a pick of {pick.which}", about, pick.day, pick.source)
        if pick.count:
            yield Holding(
                "count", pick.count, pick.count, "pieces picked", frozenset(("harvest",)), day=pick.day
            )
        if pick.spoilt is not None and pick.count:
            yield Holding(
                "part",
                pick.spoilt,
                pick.spoilt,
                "spoilt pieces",
                frozenset(("spoilt",)),
                day=pick.day,
                whole=pick.count,
            )
    for day, picks in by_day.items():
        weight = total((pick.weight for pick in picks), Dimension.MASS)
        first = {"first"} if day == min(by_day) else set()
        sources = tuple(pick.source for pick in picks)
        yield _amount(weight, "all picked that day", {"harvest", *first}, day, *sources)
        yield from _means(picks, day, names)
    for point in facts.harvest.cumulative:
        yield _amount(point.total, "picked by then", {"harvest"}, point.day, point.source)


def _means(picks: Iterable[Pick], day: Day, names: _Names) -> Iterator[Holding]:
    """The mean of plants weighed alone on a day, for each set that they are of."""
    alone = [pick for pick in picks if len(pick.which.ids) == 1 and pick.weight.exact]
    for split in sets_of(names.facts.run.setup).values():
        for members in split.values():
            own = [pick for pick in alone if pick.which.ids[0] in members]
            if len(own) > 1:
                mean = sum(pick.weight.low for pick in own) / len(own)
                about = frozenset(("harvest", "average", *names.of(p.which.ids[0] for p in own)))
                yield Holding("amount", mean, mean, "the mean of that day", about, Dimension.MASS, day)


def _part(part: str) -> tuple[str, ...]:
    return tuple(f"={word}" for word in _WORD.findall(part.lower()))


def _of_readings(facts: Facts, names: _Names) -> Iterator[Holding]:
    subjects = {"air_temperature": "temperature", "water_temperature": "temperature"}
    for reading in facts.run.rows.readings:
        about = {
            subjects.get(reading.name, reading.name),
            *names.of(reading.plants),
            *_part(reading.name.replace("_", " ")),
        }
        said = reading.name.replace("_", " ")
        if reading.value.dimension is Dimension.COUNT:
            if reading.value.high is not None:
                yield Holding(
                    "count", reading.value.low, reading.value.high, said, frozenset(about), day=reading.day
                )
        else:
            yield _amount(reading.value, said, about, reading.day, reading.source)
    warm = frozenset(("temperature",))
    for day in facts.climate.air_daily:
        for value, said in ((day.high, "the highest of that day"), (day.low, "the lowest of that day")):
            yield Holding("amount", value, value, said, warm, Dimension.TEMPERATURE, Day.on(day.day))


def _of_events(facts: Facts) -> Iterator[Holding]:
    for event in facts.run.rows.events:
        if isinstance(event, SeedlingCount) and event.seedlings and event.seedlings.single:
            whole = event.out_of
            kind: Kind = "part" if whole else "count"
            yield Holding(
                kind, event.seedlings.low, event.seedlings.high, "seedlings up", frozenset(("seeds",)), day=event.day,
                whole=whole, sources=(event.source,),
            )  # fmt: skip
        elif isinstance(event, Tasting) and event.score and event.out_of:
            about = frozenset(("taste",))
            yield Holding(
                "part",
                event.score.low,
                event.score.high,
                "a score for taste",
                about,
                day=event.day,
                whole=event.out_of,
            )
        elif isinstance(event, Thinning):
            continue
        elif isinstance(event, Watering) and event.amount and event.amount.known:
            yield _amount(event.amount, "water added", {"water"}, event.day, event.source)
        elif (amount := getattr(event, "amount", None)) is not None and amount.known:
            yield _amount(
                amount, "a dose", {"feed", *_part(getattr(event, "product", ""))}, event.day, event.source
            )
    for row in facts.run.rows.lights:
        if row.use.hours and row.use.hours.known:
            yield _amount(row.use.hours, "lamp hours", {"hours", "lamp"}, row.day, row.source)
        if row.use.distance and row.use.distance.known:
            yield _amount(row.use.distance, "the lamp above the plants", {"lamp"}, row.day, row.source)
    for routine in facts.run.rows.routines:
        if routine.amount and routine.amount.known:
            yield _amount(routine.amount, "a dose at each refill", {"feed"}, routine.day, routine.source)


def _of_stages(facts: Facts, names: _Names) -> Iterator[Holding]:
    roster = Roster.of(facts.run.setup, facts.run.rows)
    for row in facts.run.rows.milestones:
        if row.which.count is None and not row.which.named:
            continue
        standing = roster.count(row.day.last)
        number = _counted(row.which) if row.reached else 0
        about = frozenset((*_of_stage(row.name), *names.of(row.which.ids)))
        said = f"plants with {row.name.replace('_', ' ')}"
        yield Holding(
            "part",
            number,
            number,
            said,
            about,
            day=row.day,
            whole=row.which.of or standing,
            sources=(row.source,),
        )
        yield Holding("count", number, number, said, about | {"plants"}, day=row.day, sources=(row.source,))


def _of_stage(name: str) -> frozenset[str]:
    """The subjects of a stage."""
    if name in _STAGES:
        return frozenset(_STAGES[name])
    return frozenset(each for each in subjects_of(name.replace("_", " ")) if not each.startswith("="))


def _counted(which: Which) -> int:
    return len(which.ids) if which.named else which.count or 0


def _of_setup(facts: Facts) -> Iterator[Holding]:
    setup, place = facts.run.setup, facts.run.setup.source
    plants = len(setup.plants)
    yield Holding("count", plants, plants, "plants", frozenset(("plants",)), sources=(place,))
    left = Roster.of(setup, facts.run.rows).count(facts.run.last_day)
    about = frozenset(("plants", "lost"))
    yield Holding("part", left, left, "plants that were not lost", about, whole=plants)
    yield Holding("count", plants - left, plants - left, "plants lost", about)
    for split in sets_of(setup).values():
        for key, members in split.items():
            about = frozenset(
                ("plants", *(f"={word.lower()}" for word in _WORD.findall(setup.variety_name(key))))
            )
            yield Holding("count", len(members), len(members), f"plants of {key}", about)
    yield Holding("count", len(setup.tubs), len(setup.tubs), "tubs", frozenset(("tubs",)))
    seed = setup.seed
    if seed and seed.claims.days:
        days = seed.claims.days
        yield Holding(
            "amount",
            days.first,
            days.last,
            "the days claimed for the seed",
            frozenset(("claim",)),
            Dimension.DAYS,
        )
    if seed and seed.claims.height:
        yield _amount(seed.claims.height, "the height claimed for the seed", ("claim", "height"), None)
    yield from _of_lamps(facts)
    for tub in setup.tubs:
        if tub.system.reservoir:
            yield _amount(tub.system.reservoir, "what the tub holds", ("water", "=tub"), None)
        if tub.light and tub.light.hours:
            yield _amount(tub.light.hours, "lamp hours", ("hours", "lamp"), None)


def _of_lamps(facts: Facts) -> Iterator[Holding]:
    """The power of each lamp, and by how much each differs from each other."""
    uses = [tub.light for tub in facts.run.setup.tubs if tub.light] + [
        row.use for row in facts.run.rows.lights
    ]
    lamps = {use.lamp.id: use.lamp for use in uses if use.lamp and use.lamp.power}
    for lamp in lamps.values():
        assert lamp.power is not None
        yield _amount(lamp.power, lamp.name, ("power", "lamp", *_part(lamp.name)), None)
    for one, other in combinations(lamps.values(), 2):
        if one.power is None or other.power is None or not (one.power.exact and other.power.exact):
            continue
        less, more = sorted((one, other), key=lambda lamp: lamp.power.low if lamp.power else 0)
        low, high = (lamp.power.low for lamp in (less, more) if lamp.power)
        about = frozenset(("power", "lamp"))
        yield Holding(
            "per cent", 100 * (high / low - 1), 100 * (high / low - 1), f"{more.name} over {less.name}", about
        )
        yield Holding(
            "per cent",
            -100 * (1 - low / high),
            -100 * (1 - low / high),
            f"{less.name} under {more.name}",
            about,
        )


def _of_days(facts: Facts, names: _Names) -> Iterator[Holding]:
    """The day of each entry by what was done on it, and the days between what happened first."""
    rows, firsts = facts.run.rows, []
    for event in rows.events:
        words = event.deed.value if event.deed is Deed.NOTE else f"{event.deed.value} {event.what}"
        subjects = {each for each in subjects_of(words) if not each.startswith("=")}
        about = frozenset((*subjects, *names.of(event.which.ids if event.which else ())))
        yield Holding(
            "day",
            event.day.first,
            event.day.last,
            event.deed.value,
            about,
            day=event.day,
            sources=(event.source,),
        )
    for pick in rows.picks:
        about = frozenset(("harvest", *(("first",) if pick.day == min(p.day for p in rows.picks) else ())))
        yield Holding(
            "day", pick.day.first, pick.day.last, "a pick", about, day=pick.day, sources=(pick.source,)
        )
    for row in rows.milestones:
        about = frozenset((*_of_stage(row.name), *names.of(row.which.ids)))
        yield Holding(
            "day",
            row.day.first,
            row.day.last,
            row.name.replace("_", " "),
            about,
            day=row.day,
            sources=(row.source,),
        )
    for milestone in facts.milestones:
        firsts += [
            (arrival.day, milestone.name, arrival.plant)
            for arrival in milestone.arrivals
            if arrival.day is not None and arrival.day.exact
        ]
    yield from _between(firsts, names)
    for reading in rows.readings:
        about = frozenset((reading.name, *_part(reading.name.replace("_", " "))))
        yield Holding("day", reading.day.first, reading.day.last, reading.name, about, day=reading.day)


def _between(firsts: list[tuple[Day, str, str]], names: _Names) -> Iterator[Holding]:
    """Days between the first plants of two sets at one stage."""
    sets = [members for split in sets_of(names.facts.run.setup).values() for members in split.values()]
    pairs = 0
    for stage in dict.fromkeys(name for _, name, _ in firsts):
        earliest: list[tuple[int, tuple[str, ...]]] = []
        for members in sets:
            days = [day.first for day, name, plant in firsts if name == stage and plant in members]
            if days:
                earliest.append((min(days), members))
        for (one, these), (other, those) in combinations(earliest, 2):
            pairs += 1
            if one == other or pairs > _MOST_PAIRS:
                continue
            about = frozenset((*_of_stage(stage), *names.of(these), *names.of(those)))
            apart = float(abs(one - other))
            yield Holding(
                "amount", apart, apart, f"between the two at {stage.replace('_', ' ')}", about, Dimension.DAYS
            )
