"""Random journals as files: every form of a value in the log of an invented tomato, in both systems of units.

In: Hypothesis. Out: `JOURNALS`, a strategy of `RandomJournal`; its `write` makes the files. A log is told in the order of
days and keeps to what can be: counts rise, a lost plant does nothing more, and a running total is no less than the
picks before it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from hypothesis import strategies as st

from tests.journal_maker import make_journal

__all__ = ["JOURNALS", "RandomJournal", "logs"]

GEAR = """\
systems:
  tub-a: {name: Grey tub, kind: deep water culture, spots: 4, reservoir: 11 L, footprint: 60 x 40 cm, headroom: 60 cm}
  tub-b: {name: Blue tub, kind: deep water culture, spots: 4, reservoir: 3 gal, footprint: 20 x 14 in, headroom: 24 in}
lamps:
  bar: {name: Plain bar, power: 45 W, ppfd: 210 umol/m2/s at 30 cm}
products:
  leaf-mix: {name: Plain mix, kind: feed, dose: 2 ml/L, price: 9.50 per 500 ml}
  ph-down: {name: Plain acid, kind: acid, price: 6.90 per 250 ml}
"""
US_TUB = (
    "reservoir: 3 gal, footprint: 20 x 14 in, headroom: 24 in",
    "reservoir: 12 L, footprint: 50 x 35 cm, headroom: 60 cm",
)
METRIC = frozenset(("g", "kg", "cm", "ml", "L", "C", "mS/cm"))
CROPS = """\
tomato:
  name: Dwarf tomato
  kind: fruiting
  base_temperature: 10 C
  base_temperature_source: from memory
  price: 4.00 per kg
  varieties: {amber: {name: Amber}, rust: {name: Rust}}
"""
PRICES = "prices: {currency: EUR, electricity: 0.31 per kWh, water: 0.004 per L}\n"
RECAP = """\
The bowl held {{ facts.harvest.total }}, and {{ facts.harvest.per_spot }} came of a spot.
Of the seeds, {{ facts.germination.share }} came up. The tallest plant had {{ facts.growth.tallest }},
and {{ facts.solution.water }} went in. It took {{ facts.length }}; the first pick was {{ facts.harvest.first_pick }}.
"""
FOUR = ("P1", "P2", "P3", "P4")
STAGES = ("flower_bud", "first_flower", "ripe")


@dataclass(frozen=True)
class RandomJournal:
    """A journal of a few runs; `spots` of each are four."""

    language: str
    units: str
    metric: bool  # whether all of it was written in metric units
    experiments: dict[str, str]

    def write(self, root: Path) -> Path:
        """Its files in a folder."""
        head = f"language: {self.language}\nunits: {self.units}\nlicence: CC-BY-4.0\n{PRICES}"
        more = {"gear.yaml": GEAR.replace(*US_TUB) if self.metric else GEAR, "crops.yaml": CROPS}
        more |= {f"seasons/one/{name}/recap.md": RECAP for name in self.experiments}
        return make_journal(root, self.experiments, journal=head, more=more)


@dataclass
class _Told:
    """What a log has said so far, and the units that it is written in."""

    tubs: tuple[str, ...]
    metric: bool
    grams: int = 0  # no pick so far weighed more, all together
    reached: dict[str, int] = field(default_factory=dict)  # plants by stage
    moved: bool = False
    lost: bool = False


Draw = st.DrawFn
Maker = Callable[[Draw, _Told], str]


def _one_of(draw: Draw, *choices: str) -> str:
    return draw(st.sampled_from(choices))


def _number(draw: Draw, low: int, high: int, decimals: int = 0) -> str:
    scale = 10**decimals
    return f"{draw(st.integers(low * scale, high * scale)) / scale:.{decimals}f}"


def _amount(draw: Draw, told: _Told, units: Sequence[tuple[str, int, int, int]]) -> str:
    """An amount in one of some units (each with its least, its most and its decimals), in any form."""
    unit, low, high, decimals = draw(
        st.sampled_from([each for each in units if each[0] in METRIC or not told.metric])
    )
    value = _number(draw, low, high, decimals)
    form = _one_of(draw, "", "", "", "about", "by eye", "range", "at least", "plus", "up to")
    if form == "range":
        return f"{low}-{high} {unit}" if draw(st.booleans()) else f"{value}-{high + 1} {unit}"
    if form == "plus":
        return f"{value}+ {unit}"
    if form == "by eye":
        return f"{value} {unit} by eye"
    return f"{form} {value} {unit}".strip()


WEIGHT = (
    ("g", 1, 500, 0),
    ("g", 1, 90, 1),
    ("oz", 1, 20, 0),
    ("oz", 1, 9, 1),
    ("kg", 1, 2, 3),
    ("lb", 1, 2, 0),
)
HEAVIEST = 2000  # g, of one pick: the most of any unit above and its range, rounded up


def _weight(draw: Draw, told: _Told) -> str:
    told.grams += HEAVIEST
    if draw(st.integers(0, 2)):
        return _amount(draw, told, WEIGHT)
    written = ("unweighed", "130 g", "129 g", "at least 130 g", "189+ g")
    return _one_of(draw, *written, *(() if told.metric else ("1 lb 4 oz", "½ oz", "2¼ oz")))


def _volume(draw: Draw, told: _Told) -> str:
    units = (
        ("L", 1, 9, 0),
        ("L", 1, 5, 1),
        ("ml", 200, 900, 0),
        ("gal", 1, 2, 0),
        ("gal", 1, 2, 1),
        ("fl oz", 8, 64, 0),
    )
    return (
        _one_of(draw, "unmeasured", "filled") if draw(st.integers(0, 5)) == 0 else _amount(draw, told, units)
    )


def _dose(draw: Draw, told: _Told) -> str:
    units = (("ml", 2, 20, 0), ("ml", 1, 4, 1), ("tsp", 1, 3, 0))
    if draw(st.integers(0, 4)) == 0:
        return _one_of(draw, "unmeasured", "2 ml/L", "as labelled", *([] if told.metric else ["½ tsp"]))
    return _amount(draw, told, units)


def _by_tub(draw: Draw, told: _Told, key: str, value: Callable[[Draw], str]) -> str:
    """A value for the tub, or one for each tub that it names."""
    if len(told.tubs) == 1:
        return f"{key}: {value(draw)}"
    named = draw(st.sampled_from((told.tubs, told.tubs[:1], told.tubs[1:])))
    return f"{key}: {{{', '.join(f'{tub}: {value(draw)}' for tub in named)}}}"


def _standing(told: _Told) -> tuple[str, ...]:
    return FOUR[:3] if told.lost else FOUR


def _which(draw: Draw, told: _Told) -> str:
    names = ["P1", "P1-P2", "[P1, P3]", "all", "early"]
    return draw(st.sampled_from(names if told.lost else [*names, "P4", "some", "2 of 4"]))


def _height(draw: Draw, told: _Told) -> str:
    units = (("cm", 3, 50, 0), ("cm", 3, 50, 1), ("in", 2, 20, 0), ("in", 2, 20, 1))
    if draw(st.booleans()):
        return f"height: {_amount(draw, told, units)}"
    return f"height: {{{', '.join(f'{plant}: {_amount(draw, told, units)}' for plant in _standing(told))}}}"


def _one_pick(draw: Draw, told: _Told) -> str:
    parts = [f"plants: {_which(draw, told)}", f"weight: {_weight(draw, told)}"]
    if draw(st.booleans()):
        parts += [f"count: {draw(st.integers(2, 30))}", *(["spoilt: 1"] if draw(st.booleans()) else [])]
    parts += [f"part: {_one_of(draw, 'fruit', 'fruit', 'leaf')}"] if draw(st.booleans()) else []
    parts += [f"grade: {_one_of(draw, 'good', 'poor')}"] if draw(st.booleans()) else []
    parts += [f"flush: {draw(st.integers(1, 2))}"] if draw(st.integers(0, 4)) == 0 else []
    parts += (
        [f"earlier_picks: {_one_of(draw, 'included', 'apart', 'unclear')}"]
        if draw(st.integers(0, 5)) == 0
        else []
    )
    return f"{{{', '.join(parts)}}}"


def _harvest(draw: Draw, told: _Told) -> str:
    form = draw(st.integers(0, 3))
    if form == 0:
        return f"harvest: {_weight(draw, told)}"
    if form == 1:
        named = ", ".join(f"{plant}: {_weight(draw, told)}" for plant in _standing(told))
        return f"harvest: {{{named}}}"
    if form == 2:
        return f"harvest: [{_one_pick(draw, told)}, {_one_pick(draw, told)}]"
    return f"harvest: {_one_pick(draw, told)}"


def _tally(draw: Draw, told: _Told) -> str:
    told.grams += HEAVIEST
    amount = f"{told.grams / 1000:.1f} kg" if draw(st.booleans()) else f"{told.grams} g"
    return f"total_so_far: {_one_of(draw, '', 'at least ', 'about ')}{amount}"


def _stage(draw: Draw, told: _Told) -> str:
    """A stage that some plants have reached; those of an earlier stage are no fewer."""
    name = draw(st.sampled_from(STAGES))
    least = told.reached.get(name, 0)
    most = min((told.reached.get(each, 0) for each in STAGES[: STAGES.index(name)]), default=3)
    if most <= least:
        return f"milestone: {{{name}: none}}" if least == 0 else "note: nothing new"
    told.reached[name] = draw(st.integers(least + 1, most))
    return f"milestone: {{{name}: [{', '.join(FOUR[: told.reached[name]])}]}}"


def _lost(draw: Draw, told: _Told) -> str:
    if told.lost or draw(st.booleans()):
        return "trouble: {what: leaf edges brown, plants: P1}"
    told.lost = True
    return "lost: {P4: fell over}"


def _moved(draw: Draw, told: _Told) -> str:
    if told.moved or len(told.tubs) == 1:
        return f"prune: {{what: low leaves, plants: {_one_of(draw, 'P1', 'all')}}}"
    told.moved = True
    return "move: {P1: right}"


def _light(draw: Draw, told: _Told) -> str:
    hours = _one_of(draw, "14 h", "12-16 h", "about 15 h", "0-16 h")
    use = f"{{lamp: bar, hours: {hours}, distance: {_number(draw, 20, 40)} cm}}"
    return _by_tub(draw, told, "light", lambda _: use)


MAKERS: tuple[Maker, ...] = (
    _height,
    _harvest,
    _harvest,
    _harvest,
    _tally,
    _stage,
    _lost,
    _moved,
    _light,
    lambda draw, told: _by_tub(draw, told, "water", lambda d: _volume(d, told)),
    lambda draw, told: _by_tub(draw, told, "water", lambda d: _volume(d, told)),
    lambda draw, told: _by_tub(draw, told, "feed", lambda d: f"{{leaf-mix: {_dose(d, told)}}}"),
    lambda draw, told: _by_tub(draw, told, "ec", lambda d: _amount(d, told, (("mS/cm", 1, 3, 1),))),
    lambda draw, told: _by_tub(
        draw, told, "ph", lambda d: _one_of(d, "6.1", '"7.1, then 5.9"', "about 6", "5.5-6.5")
    ),
    lambda draw, told: _by_tub(
        draw,
        told,
        "air_temperature",
        lambda d: _amount(d, told, (("C", 15, 29, 0), ("C", 15, 29, 1), ("F", 60, 85, 0))),
    ),
    lambda draw, told: _by_tub(draw, told, "humidity", lambda d: f"{_number(d, 40, 70)} %"),
    lambda _, told: (
        "from_now: {feed: {leaf-mix: 5 ml, at: every refill}}" if len(told.tubs) == 1 else "note: warm"
    ),
)


@st.composite
def logs(draw: Draw, metric: bool) -> str:
    """The text of one `experiment.yaml`."""
    told = _Told(draw(st.sampled_from((("tub",), ("left", "right")))), metric)
    head = [
        "format: 1",
        f"title: {_one_of(draw, 'Amber run', 'Second try')}",
        "crop: tomato",
        "plants: 4",
        f"start: {_one_of(draw, '2025-03-01', '2025-03', 'unknown')}",
        f"variety: {_one_of(draw, 'amber', '{P1-P2: amber, P3-P4: rust}')}",
        "groups: {early: [P1, P2, P3], late: P4}",
        "seed: {source: swap table, claims: {days: 60, from: sowing, height: up to 30 cm, germination: 85 %}}",
    ]
    tubs = "tubs: {left: {system: tub-a, plants: P1-P2}, right: {system: tub-b, plants: P3-P4}}"
    head += [f"system: {_one_of(draw, 'tub-a', 'tub-b')}" if len(told.tubs) == 1 else tubs]
    log = ["  - {day: 0, sow: 2 a spot}"]
    day = 0
    if draw(st.booleans()):
        up = draw(st.integers(1, 8))
        log += [f"  - {{day: 5, sprouted: {up // 2} of 8}}", f"  - {{day: 9, sprouted: {up} of 8}}"]
        day = 9
    for _ in range(draw(st.integers(4, 14))):
        day += draw(st.integers(1, 6))
        first, day = day, day + draw(st.sampled_from((0, 0, 0, 2)))
        when = f"{first}-{day}" if first != day else f"{_one_of(draw, '', '', '', 'about ')}{day}"
        if draw(st.integers(0, 15)) == 0:
            when = f"before {day + 1}"
        entry = draw(st.sampled_from(MAKERS))(draw, told)
        log.append(f"  - {{day: {when}, {entry}}}")
    if draw(st.booleans()):
        log.append(
            f"  - {{day: {_one_of(draw, '', 'about ')}{day + 8}, end: {{why: done, plants: cleared}}}}"
        )
    return "\n".join([*head, "log:", *log]) + "\n"


@st.composite
def _journals(draw: Draw) -> RandomJournal:
    metric = draw(st.booleans())
    texts = draw(st.lists(logs(metric), min_size=1, max_size=2))
    experiments = {f"run-{number}": text for number, text in enumerate(texts, 1)}
    return RandomJournal(_one_of(draw, "en", "de"), _one_of(draw, "metric", "us"), metric, experiments)


JOURNALS = _journals()
