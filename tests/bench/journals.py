"""Makes journals of any size for measuring: the same bytes for the same numbers.

In: a folder, a number of experiments, a number of photos for each. Out: a whole journal on disk. Every experiment has
6 plants, 120 log entries and 60 readings; everything in it is invented.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from pathlib import Path
from random import Random

__all__ = ["ENTRIES", "PLANTS", "READINGS", "make"]

ENTRIES, READINGS = 120, 60
PLANTS = tuple(f"P{number}" for number in range(1, 7))
FIRST_SEASON = dt.date(2014, 1, 6)
SEASON = dt.timedelta(days=91)
MOST_SEASONS, SEASON_RUNS = 40, 25
TRANSPLANT, HEIGHTS, SOLUTION = 20, (24, 38, 52, 66, 90), tuple(range(23, 128, 7))


@dataclass(frozen=True, slots=True)
class Plan:
    """How a crop goes: stages by day, final height [cm], and what is picked of each plant [g]."""

    id: str
    varieties: str
    stages: tuple[tuple[str, int], ...]
    height: float
    part: str
    first_pick: int
    every: int
    grams: int
    ec: tuple[float, float]


@dataclass(frozen=True, slots=True)
class System:
    """A tub: its name as an id, what it holds [L], and its lamp."""

    id: str
    litres: int
    lamp: str


_EARLY = (("seed_leaves", 9), ("first_true_leaf", 15))
_FRUIT = (("flower_bud", 40), ("first_flower", 50), ("first_fruit", 60), ("first_colour", 80), ("ripe", 88))
_LETTUCE = (*_EARLY, ("rosette", 28), ("full_rosette", 40))
_BEAN = (*_EARLY, ("flower_bud", 36), ("first_flower", 44), ("first_pod", 52), ("full_pod", 62))
_HERB = (*_EARLY, ("side_shoots", 34))
PLANS = (
    Plan("lettuce", "ash-feather low-tide brass-button", _LETTUCE, 22, "leaf", 36, 7, 14, (1.2, 1.7)),
    Plan("dwarf-tomato", "kiln-red lamp-oil", (*_EARLY, *_FRUIT), 38, "fruit", 94, 4, 26, (2.1, 2.9)),
    Plan("basil", "stair-green violet-post", _HERB, 31, "stem", 42, 8, 9, (1.1, 1.5)),
    Plan("pepper", "cellar-bell thimble", (*_EARLY, *_FRUIT), 42, "fruit", 96, 5, 31, (1.4, 1.8)),
    Plan("dwarf-bean", "ferry-line chalk-pod", _BEAN, 44, "pod", 66, 5, 21, (2.1, 2.8)),
)
CROPS = """\
lettuce: {kind: leafy, latin: Lactuca sativa, base_temperature: 4 C, base_temperature_source: invented,
dwarf-tomato: {kind: fruiting, latin: Solanum lycopersicum,
basil: {kind: herb, latin: Ocimum basilicum,
pepper: {kind: fruiting, latin: Capsicum annuum,
dwarf-bean: {kind: legume, latin: Phaseolus vulgaris,
"""
SYSTEMS = (
    System("long-tub", 14, "bar"),
    System("round-tub", 10, "bar"),
    System("wick-crate", 8, "strip"),
    System("flood-bench", 26, "panel"),
)
NOTES = (
    "Roots white, nothing to report",
    "Turned the tub by a quarter",
    "New leaves a shade lighter than the old ones",
    "Loft warm in the afternoon, fan on",
    "Wiped salt off the rim",
    "One leaf touched the lamp and was folded down",
    "Water looked clear and smelled of nothing",
    "Away for two days, all standing on return",
)
TASTES = ("4/5, crisp and mild", "3/5, a little sharp", "5/5, better than the last run")
RECAP = """\
The question was whether run {number} would repeat what the one before it did.

## In short

Of the seeds {{{{ facts.germination.share }}}} came up. Over {{{{ facts.length }}}} the six gave
{{{{ facts.harvest.total }}}}, **all of it weighed on the same scale**, and the tub took *{{{{ facts.solution.water }}}}*.

## What went on

{body}

- The meters were rinsed before each reading.
- Heights are to the topmost leaf.
- One visit was made by somebody else.
"""
JOURNAL = """\
format: 1
title: A journal for measuring
tagline: Invented runs, as many as are wanted
author: {name: Nobody}
address: https://example.org/measuring/
units: metric
licence: CC0-1.0
prices: {currency: EUR, electricity: 0.30 per kWh}
timezone: Etc/UTC
"""
GEAR = """\
lamps:
  bar: {name: Plain bar, power: 60 W, ppfd: 250 umol/m2/s at 30 cm}
  strip: {name: Pair of strips, power: 32 W}
  panel: {name: Square panel, power: 100 W, ppfd: 400 umol/m2/s at 35 cm}
products:
  mix-a: {name: Mix part A, kind: feed, dose: 2 ml/L, price: 11.00 per 1 L}
  mix-b: {name: Mix part B, kind: feed, dose: 2 ml/L, price: 11.00 per 1 L}
  ph-down: {name: pH down, kind: acid}
systems:
"""

Visits = dict[int, dict[str, str]]


def make(
    root: Path, experiments: int, *, photos: int = 0, size: tuple[int, int] = (4000, 3000), crop: str = ""
) -> Path:
    """A journal of so many experiments, with so many photos each, of a size in pixels.

    With a crop, all are of that one, with two varieties each and no groups.
    """
    root.mkdir(parents=True)
    (root / "journal.yaml").write_text(JOURNAL, "utf-8")
    (root / "gear.yaml").write_text(GEAR + "\n".join(map(_system, SYSTEMS)) + "\n", "utf-8")
    (root / "crops.yaml").write_text("".join(map(_crop, PLANS, CROPS.splitlines())), "utf-8")
    (root / "about.md").write_text("# About\n\nEverything here is invented, for measuring.\n", "utf-8")
    seasons = min(MOST_SEASONS, max(4, experiments // SEASON_RUNS))
    for number in range(seasons):
        folder = root / "seasons" / _season(number)
        folder.mkdir(parents=True)
        (folder / "season.yaml").write_text(
            f"title: Season {number + 1}\nsummary: A quarter of a year.\n", "utf-8"
        )
    for number in range(experiments):
        _experiment(root, number, number * seasons // experiments, photos, size, crop)
    return root


def _system(system: System) -> str:
    return (
        f"  {system.id}: {{name: {_name(system.id)}, kind: deep water culture, spots: 6, reservoir: {system.litres} L,"
        " footprint: 60 x 40 cm, headroom: 75 cm}"
    )


def _crop(plan: Plan, written: str) -> str:
    varieties = ", ".join(f"{each}: {{name: {_name(each)}}}" for each in plan.varieties.split())
    return f"{written} name: {_name(plan.id)}, varieties: {{{varieties}}}}}\n"


def _name(word: str) -> str:
    return word.replace("-", " ").capitalize()


def _season(number: int) -> str:
    day = FIRST_SEASON + SEASON * number
    return f"{day.year}-{day.month:02}-{('winter', 'spring', 'summer', 'autumn')[number % 4]}"


def _experiment(root: Path, number: int, season: int, photos: int, size: tuple[int, int], crop: str) -> None:
    # A repeatable mixture, not a secret.
    random = Random(f"experiment {number}")  # noqa: S311
    of_crop = [plan for plan in PLANS if plan.id == crop]
    plan, system = (of_crop or PLANS)[number % len(of_crop or PLANS)], SYSTEMS[number // 3 % len(SYSTEMS)]
    start = FIRST_SEASON + SEASON * season + dt.timedelta(days=number % 60)
    folder = root / "seasons" / _season(season) / f"{plan.id}-{number:05}"
    folder.mkdir()
    tubs = ("left", "right") if number % 7 == 3 else ()
    log = _log(random, plan, system, tubs)
    if photos:
        _photos(folder, log, number, photos, size)
    text = f"{_setup(number, plan, system, tubs, start, two=bool(crop))}log:\n{_written(log)}"
    (folder / "experiment.yaml").write_text(text, "utf-8")
    body = " ".join(f"{random.choice(NOTES)}." for _ in range(20))
    (folder / "recap.md").write_text(RECAP.format(number=number, body=body), "utf-8")


def _setup(
    number: int, plan: Plan, system: System, tubs: tuple[str, ...], start: dt.date, *, two: bool
) -> str:
    variety, other, *_ = (plan.varieties.split() * 2)[number % 2 :]
    groups = "" if two else "groups: {near: P1-P3, far: P4-P6}\n"
    both = two or number % 4 == 1
    where = (
        f"tubs: {{left: {{system: {system.id}, plants: P1-P3}}, right: {{system: {system.id}, plants: P4-P6}}}}"
        if tubs
        else f"system: {system.id}"
    )
    return (
        f"format: 1\ntitle: {_name(plan.id)}, run {number}\n"
        f"question: Does run {number} repeat what the one before it did?\ncrop: {plan.id}\n"
        f"variety: {f'{{P1-P3: {variety}, P4-P6: {other}}}' if both else variety}\n{where}\n"
        f"start: {start.isoformat()}\nplants: {len(PLANTS)}\n{groups}"
        f"seed: {{source: seed box, packed: {start.year - 1}, claims: {{days: {plan.first_pick - 6}, from: sowing}}}}\n"
        f"light: {{lamp: {system.lamp}, hours: {13 + number % 4} h, distance: 30 cm}}\n"
        "answer: {verdict: again, why: it did much the same as the one before}\n"
        "disclosure: Nothing was given.\n"
    )


def _log(random: Random, plan: Plan, system: System, tubs: tuple[str, ...]) -> Visits:
    """All visits by day: what has its day first, then water and notes on the days left."""
    visits: Visits = {}
    shift = random.randrange(4)
    last = 136 + random.randrange(20)
    _beginning(random, visits, system, tubs)
    _stages(random, visits, plan, shift)
    _heights(random, visits, plan)
    _solution(random, visits, plan, tubs)
    _picks(random, visits, plan, last, shift)
    _put(visits, last, "end", "{why: slow now, plants: cleared}")
    free = [day for day in range(TRANSPLANT + 1, last) if day not in visits]
    days = random.sample(free, ENTRIES - len(visits))
    for turn, day in enumerate(sorted(days)):
        _ordinary(random, visits, day, turn, tubs)
    return visits


def _put(visits: Visits, day: int, key: str, value: str) -> None:
    visits.setdefault(day, {})[key] = value


def _tubs(value: str, tubs: tuple[str, ...]) -> str:
    """A value for the one tub, or for each of several."""
    return f"{{{', '.join(f'{tub}: {value}' for tub in tubs)}}}" if tubs else value


def _beginning(random: Random, visits: Visits, system: System, tubs: tuple[str, ...]) -> None:
    up = [random.randrange(2, 4) for _ in PLANTS]
    _put(visits, 0, "sow", "3 a spot")
    _put(visits, 0, "note", "In the seed tray under a lid.")
    _put(visits, 5, "sprouted", f"{sum(up) - 3} of {3 * len(PLANTS)}")
    by_spot = (f"{plant}: {count}" for plant, count in zip(PLANTS, up, strict=True))
    _put(visits, 8, "sprouted", f"{{{', '.join(by_spot)}}}")
    _put(visits, 12, "thin_to", "1")
    _put(visits, TRANSPLANT, "transplant", "all")
    _put(visits, TRANSPLANT, "water", _tubs("filled", tubs))
    dose = f"{{mix-a: {system.litres} ml, mix-b: {system.litres} ml}}"
    _put(visits, TRANSPLANT, "feed", _tubs(dose, tubs))


def _stages(random: Random, visits: Visits, plan: Plan, shift: int) -> None:
    """Each stage is seen with some plants first, and with all of them three days later."""
    for name, day in plan.stages:
        some = sorted(random.sample(PLANTS, random.randrange(1, 5)))
        first = f"[{', '.join(some)}]" if random.random() < 0.7 else f"{len(some)} of {len(PLANTS)}"
        _put(visits, day + shift, "milestone", f"{{{name}: {first}}}")
        _put(visits, day + shift + 3, "milestone", f"{{{name}: all}}")
    name, day = plan.stages[2]
    _put(visits, day - 3, "milestone", f"{{{name}: none}}")


def _heights(random: Random, visits: Visits, plan: Plan) -> None:
    """Five times six heights: growing by day, each plant at its own rate."""
    vigour = [0.8 + 0.4 * random.random() for _ in PLANTS]
    for day in HEIGHTS:
        grown = plan.height * day * day / (day * day + 45 * 45)
        each = (f"{p}: {max(2.0, grown * v):.1f} cm" for p, v in zip(PLANTS, vigour, strict=True))
        _put(visits, day, "height", f"{{{', '.join(each)}}}")


def _solution(random: Random, visits: Visits, plan: Plan, tubs: tuple[str, ...]) -> None:
    """Fifteen times EC; pH nine times as it was and three times before and after the acid."""
    low, high = plan.ec
    for turn, day in enumerate(SOLUTION):
        tub = tubs[turn % 2 : turn % 2 + 1]
        _put(visits, day, "ec", _tubs(f"{low + (high - low) * random.random():.1f} mS/cm", tub))
        if turn % 5 == 4:
            _put(visits, day, "ph", _tubs(f"'{6.8 + random.random() / 2:.1f}, then 6.0'", tub))
            _put(visits, day, "adjust", _tubs("{ph-down: 2 ml}", tub))
        elif turn % 5:
            _put(visits, day, "ph", _tubs(f"{5.8 + random.random() / 5:.1f}", tub))


def _picks(random: Random, visits: Visits, plan: Plan, last: int, shift: int) -> None:
    """Mostly plant by plant; some together, some only about, some not weighed."""
    for turn, day in enumerate(range(plan.first_pick + shift, last, plan.every)):
        _put(visits, day, "harvest", _pick(random, plan, turn))
        if turn % 4 == 2:
            _put(visits, day, "taste", random.choice(TASTES))


def _pick(random: Random, plan: Plan, turn: int) -> str:
    if turn % 7 == 6:
        return f"{{weight: unweighed, plants: all, part: {plan.part}}}"
    grams = [max(1, round(plan.grams * (0.6 + 0.8 * random.random()))) for _ in PLANTS]
    if turn % 5 == 3:
        return f"{{weight: about {sum(grams)} g, plants: all, count: {3 * len(PLANTS)}, part: {plan.part}}}"
    picked = random.sample(range(len(PLANTS)), random.randrange(3, 7))
    each = (
        f"{PLANTS[i]}: {{weight: {grams[i]} g, count: {2 + i}, part: {plan.part}}}" for i in sorted(picked)
    )
    return f"{{{', '.join(each)}}}"


def _ordinary(random: Random, visits: Visits, day: int, turn: int, tubs: tuple[str, ...]) -> None:
    """A visit without an occasion: water, each third time with feed, and words."""
    if turn % 2 == 0:
        half_litres = random.randrange(2, 7)
        _put(visits, day, "water", _tubs(f"{half_litres / 2:g} L", tubs))
        if turn % 6 == 0:
            _put(visits, day, "feed", _tubs(f"{{mix-a: {half_litres} ml, mix-b: {half_litres} ml}}", tubs))
    if turn % 12 == 5:
        _put(visits, day, "prune", "{what: yellow leaves, plants: some}")
    if turn % 20 == 9:
        _put(visits, day, "clean", "the pump")
    if turn % 30 == 11:
        _put(visits, day, "trouble", f"{{what: tip burn, plants: 2 of 6, until: day {day + 4}}}")
    _put(visits, day, "note", f"{random.choice(NOTES)}, visit {turn}.")


def _written(visits: Visits) -> str:
    return "".join(
        f"  - day: {day}\n" + "".join(f"    {key}: {value}\n" for key, value in visits[day].items())
        for day in sorted(visits)
    )


def _photos(folder: Path, visits: Visits, number: int, photos: int, size: tuple[int, int]) -> None:
    """Photos without metadata, no two alike, each named at the visit of its day."""
    from PIL import Image

    ground = Image.effect_noise(size, 24).convert("RGB")  # not repeatable, and never compared
    (folder / "photos").mkdir()
    days = sorted(visits)
    for turn in range(photos):
        day = days[(turn + 1) * len(days) // (photos + 1)]
        name = f"day-{day}-{turn}.jpg"
        ground.paste((40, 120, 60), (turn * 40, number % 1000, turn * 40 + 400, number % 1000 + 300))
        ground.save(folder / "photos" / name, quality=88)
        earlier = visits[day].get("photo", "").strip("[]")
        shown = ", ".join(filter(None, (earlier, f"{{file: {name}, alt: An invented picture}}")))
        _put(visits, day, "photo", f"[{shown}]")
