"""The light that was read at the plants, placed among the settings of a tub's lamp.

In: settings of a lamp and readings of PPFD and lux. Out: settings cut where a reading begins to hold. Lux counts only
under a lamp whose factor is known; without one it is no light for plants.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise

from sitegen.core.records.rows import Reading, Run
from sitegen.core.records.setup import Lamp, LampUse
from sitegen.core.values.day import Day, in_turn
from sitegen.core.values.quantity import Quantity, propagate
from sitegen.core.values.units import Dimension
from sitegen.measure.climate.light import Setting
from sitegen.measure.methods import coarse, formula
from sitegen.measure.ranges import reading_range

NAMES = ("ppfd", "lux")  # of readings, that of a quantum sensor before that of a lux meter at one visit


@formula(reads=("readings.value",))
def flux_from_lux(lux: float, factor: float) -> float:
    """Photon flux density from lux.

    An estimate: a lux meter weighs colours as an eye does, a plant does not.

    Parameters
    ----------
    lux
        Illuminance at the plants [lux].
    factor
        Of the lamp, which depends on its spectrum; more than 0 [lux for each µmol/m²/s].

    Returns
    -------
    float
        Photosynthetic photon flux density [µmol/m²/s].

    Notes
    -----
    ::

        PPFD = lux / factor

    Only with a factor of the lamp that the journal gives with its source; there is none that fits every lamp.

    References
    ----------
    Thimijan, R. W. and Heins, R. D. (1983). Photometric, radiometric, and quantum light units of measure: a review of
    procedures for interconversion. HortScience 18, 818-822.

    """
    return lux / factor


@dataclass(frozen=True, slots=True)
class _Event:
    """A setting that began, a reading of light, or both at one visit."""

    day: Day
    setting: Setting | None = None
    before: LampUse | None = None  # the setting that it ended; None: it began the run
    reading: Reading | None = None
    flux: Quantity | None = None
    uncertain: bool = False

    @property
    def entry(self) -> int | None:
        """Its visit; None for a set-up or a sheet."""
        if self.setting is not None:
            return self.setting.entry
        return self.reading.entry if self.reading is not None else None

    @property
    def changes(self) -> bool:
        """Whether it changed how the lamp was set."""
        if self.setting is None or self.before is None:
            return False
        return replace(self.setting.use, on=None) != replace(self.before, on=None)

    @property
    def begins(self) -> bool:
        """Whether it was there before anything else."""
        return self.setting is not None and self.setting.entry is None


def light_readings(run: Run, tub: str) -> tuple[Reading, ...]:
    """The readings of light at the plants of a tub."""
    alone = len(run.setup.tubs) == 1
    return tuple(
        reading
        for reading in run.rows.readings
        if reading.name in NAMES
        and reading.value.known
        and (reading.tub == tub or (alone and not reading.tub))
    )


def lit_settings(settings: Sequence[Setting], readings: Iterable[Reading]) -> tuple[Setting, ...]:
    """Settings cut where a reading begins to hold; each from its day until the next."""
    if not settings:
        return ()
    end = settings[-1].until
    events = _events(settings, [each for each in _final(readings) if each.day.first <= end.last], end)
    if not any(event.reading for event in events):
        return tuple(settings)
    found: list[Setting] = []
    for event in _marked(events):
        before = found[-1] if found else None
        found.append(_following(event, before))
    days = in_turn([*(each.since for each in found), end])
    return tuple(
        replace(each, since=since, until=until)
        for each, (since, until) in zip(found, pairwise(days), strict=True)
    )


def _final(readings: Iterable[Reading]) -> list[Reading]:
    """The reading of each visit that holds after it: of `210, then 180` the second, of light and lux the light."""
    kept: list[Reading] = []
    by_visit = sorted(readings, key=lambda each: -1 if each.entry is None else each.entry)
    for entry, group in groupby(by_visit, key=lambda each: each.entry):
        here = list(group)
        if entry is None:
            kept += here
            continue
        rank = {name: number for number, name in enumerate(NAMES)}
        kept.append(min(here, key=lambda each: (each.moment == "before", rank[each.name])))
    return kept


def _events(settings: Sequence[Setting], readings: Sequence[Reading], end: Day) -> list[_Event]:
    """Settings and readings in the order of days; readings that cannot be told in PPFD are left out."""
    began = [
        _Event(setting.since, setting, before.use if before else None)
        for before, setting in pairwise((None, *settings))
        if setting is not None
    ]
    at_visit = {event.entry: number for number, event in enumerate(began) if event.entry is not None}
    alone: list[_Event] = []
    for reading in readings:
        number = at_visit.get(reading.entry) if reading.entry is not None else None
        own = _Event(reading.day, reading=reading) if number is None else began[number]
        if number is not None and own.changes and reading.moment == "before":
            continue
        flux = _flux(reading, [own.setting.use] if own.setting else _uses_at(own, began))
        if flux is None:
            continue
        if number is None:
            alone.append(replace(own, flux=flux))
        else:
            began[number] = replace(own, reading=reading, flux=flux)
    near = [_within(event, end) for event in alone]
    return sorted([*began, *near], key=_position)


def _position(event: _Event) -> tuple[int, int, bool, int]:
    return event.day.first, event.day.last, not event.begins, -1 if event.entry is None else event.entry


def _within(event: _Event, end: Day) -> _Event:
    """A reading on a day that may lie after the end: from the end's first day on, nothing is certain."""
    if end.single or event.day.last <= end.first:
        return event
    return replace(event, day=replace(event.day, first=min(event.day.first, end.first)), uncertain=True)


def _unordered(one: _Event, other: _Event) -> bool:
    """Whether either of two events may have been first."""
    if one.begins or other.begins or one.day.last < other.day.first or other.day.last < one.day.first:
        return False
    numbered = one.entry is not None and other.entry is not None
    return not (numbered and one.day.single and other.day.single)


def _uses_at(event: _Event, began: Sequence[_Event]) -> list[LampUse]:
    """How the lamp may have been set when something was read at a visit of its own."""
    uses: list[LampUse] = []
    for change in began:
        assert change.setting is not None
        if _unordered(change, event):
            uses += [use for use in (change.before, change.setting.use) if use is not None]
        elif _position(change) < _position(event):
            uses = [change.setting.use]
    return uses


def _flux(reading: Reading, uses: Sequence[LampUse]) -> Quantity | None:
    """A reading as PPFD; None for lux under an unknown lamp, under one of two, or without a factor."""
    if reading.name == "ppfd":
        return reading.value
    lamp = lamp_of_factor(uses)
    if lamp is None:
        return None
    factor = lamp.lux_factor or 1.0
    return propagate(
        lambda lux: flux_from_lux(lux, factor),
        increasing=[reading.value],
        dimension=Dimension.PHOTON_FLUX,
        step=coarse(reading.value.step / factor, reading.value.low / factor),
    )


def lamp_of_factor(uses: Sequence[LampUse]) -> Lamp | None:
    """The one lamp of several settings, where its lux factor is known."""
    lamps = {use.lamp for use in uses}
    lamp = next(iter(lamps), None)
    return lamp if len(lamps) == 1 and lamp is not None and (lamp.lux_factor or 0) > 0 else None


def _marked(events: Sequence[_Event]) -> list[_Event]:
    """Events with readings beside a change marked, and readings whose order is not known made one range."""
    found = []
    for event in events:
        others = [other for other in events if other is not event and _unordered(event, other)]
        beside = event.reading is not None and any(other.changes for other in others)
        read_beside = event.changes and any(other.reading is not None for other in others)
        found.append(replace(event, uncertain=event.uncertain or beside or read_beside))
    return _with_ranges(found)


def _with_ranges(events: Sequence[_Event]) -> list[_Event]:
    """Readings in groups: a group goes on as long as the next reading may have come before one of it."""
    found = list(events)
    group: list[int] = []
    for number, event in enumerate(found):
        if event.reading is None:
            continue
        if not any(_unordered(found[other], event) for other in group):
            group = []
        group.append(number)
        value = reading_range([flux for other in group if (flux := found[other].flux) is not None])
        for other in group:
            found[other] = replace(found[other], flux=value)
    return found


def _following(event: _Event, before: Setting | None) -> Setting:
    """The setting from an event on."""
    if event.setting is not None:
        kept = None if event.changes or before is None else before
        setting = replace(event.setting, uncertain=event.uncertain or bool(kept and kept.uncertain))
        if event.flux is None and kept is not None:
            setting = replace(setting, flux=kept.flux, read_at=kept.read_at, lux_of=kept.lux_of)
    else:
        assert before is not None
        setting = replace(before, since=event.day, uncertain=event.uncertain)
    if event.reading is not None:
        lamp = setting.use.lamp if event.reading.name == "lux" else None
        setting = replace(setting, flux=event.flux, read_at=event.reading.source, lux_of=lamp)
        setting = replace(setting, uncertain=event.uncertain)
    return replace(setting, since=event.day)
