"""What notes are drafted from: the facts of a run, its earlier runs, its outlook, and names in the words of the journal.

In: facts and what other stages found. Out: `Material`, with the questions that every kind of notes asks of a log: which
entry a line belongs to, which plants stood, which arm a plant is of.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from sitegen.core.facts.across import Outlook, RunArms
from sitegen.core.facts.tree import Facts
from sitegen.core.findings.source import Source
from sitegen.core.language.catalogue import tr
from sitegen.core.language.text import in_tub_words
from sitegen.core.language.wording import Wording
from sitegen.core.records.arms import Arm, arms_of
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Action, Clip, Deed, Entry, Rows
from sitegen.core.records.setup import Setup, Tub
from sitegen.core.values.day import Day


@dataclass(frozen=True)
class ArmPlants:
    """An arm as it is spoken of: `where` opens a sentence about its plants."""

    arm: Arm
    name: str
    where: str

    @property
    def plants(self) -> tuple[str, ...]:
        """The plants that it began with."""
        return self.arm.plants


@dataclass(frozen=True)
class Material:
    """One run with everything that its notes may use.

    `earlier` are the runs of its crop that began before it, `run` itself as comparisons take it. `cautions` are those of
    its page, `address` is the full address of the page, `chapters` are those of the episode as lines.
    """

    facts: Facts
    wording: Wording
    run: RunArms | None = None
    earlier: tuple[RunArms, ...] = ()
    outlook: Outlook | None = None
    cautions: tuple[str, ...] = ()
    address: str = ""
    chapters: tuple[str, ...] = ()

    @property
    def setup(self) -> Setup:
        """The set-up."""
        return self.facts.run.setup

    @property
    def rows(self) -> Rows:
        """The log."""
        return self.facts.run.rows

    @cached_property
    def roster(self) -> Roster:
        """Which plants stood when."""
        return Roster.of(self.setup, self.rows)

    @cached_property
    def arms(self) -> tuple[ArmPlants, ...]:
        """The arms of the run, none where nothing is compared."""
        return tuple(_arm(arm, self.setup) for arm in arms_of(self.setup))

    @property
    def last_day(self) -> int:
        """The day of the last record."""
        return self.facts.run.last_day

    @property
    def last_visit(self) -> Day | None:
        """The day of the last entry; None without one."""
        value = self.facts.last_entry.value
        return value if isinstance(value, Day) else None

    def date_of(self, day: Day) -> date | None:
        """The date of one certain day."""
        return self.setup.start.date_of(day.first) if day.single and not day.about else None

    def lamp_of(self, tub: Tub) -> str:
        """The name of the first lamp over a tub, by the set-up or the log; empty where neither names one."""
        if tub.light and tub.light.lamp:
            return tub.light.lamp.name
        named = (row.use.lamp for row in self.rows.lights if row.tub in ("", tub.id))
        return next((lamp.name for lamp in named if lamp), "")

    # entries

    @cached_property
    def _beginnings(self) -> tuple[list[int], list[Entry]]:
        by_line = sorted(self.rows.entries, key=lambda entry: entry.source.line)
        return [entry.source.line for entry in by_line], by_line

    def entry_at(self, source: Source) -> Entry | None:
        """The entry of the log that a line belongs to; None outside of the log."""
        lines, entries = self._beginnings
        if not entries or source.file != entries[0].source.file:
            return None
        place = bisect_right(lines, source.line) - 1
        return entries[place] if place >= 0 else None

    def entries_of(self, sources: Iterable[Source]) -> tuple[Entry, ...]:
        """The entries that some lines belong to."""
        found = {entry.index: entry for each in sources if (entry := self.entry_at(each)) is not None}
        return tuple(found[index] for index in sorted(found))

    def entry(self, index: int) -> Entry:
        """The entry of a number."""
        return self.rows.entries[index]

    def notes(self, entry: int) -> Iterator[Action]:
        """The notes of an entry in the author's words."""
        for event in self.rows.of(Deed.NOTE):
            if event.entry == entry and isinstance(event, Action) and event.what:
                yield event

    # pictures

    @cached_property
    def pictures(self) -> tuple[tuple[str, Day, int | None], ...]:
        """Photos by file with their day, and the entry that names them; in the order of days."""
        named = {photo.file: (photo.day, photo.entry) for photo in self.rows.photos}
        found: list[tuple[str, Day, int | None]] = [
            (file, day, entry) for file, (day, entry) in named.items()
        ]
        found += [
            (each.file, each.day, None)
            for each in self.facts.run.photo_files
            if each.file not in named and each.day is not None
        ]
        return tuple(sorted(found, key=lambda each: (each[1].key, each[0])))

    @cached_property
    def days_with_pictures(self) -> frozenset[Day]:
        """The days of which there is a photo or footage."""
        return frozenset((*(day for _, day, _ in self.pictures), *(clip.day for clip in self.clips)))

    @property
    def clips(self) -> tuple[Clip, ...]:
        """Footage named in the log."""
        return self.rows.of(Clip)

    # arms

    def arm_of(self, plant: str) -> ArmPlants | None:
        """The arm that a plant began in."""
        return next((arm for arm in self.arms if plant in arm.plants), None)

    def members(self, arm: ArmPlants, day: Day) -> tuple[str, ...]:
        """The plants of an arm that stood on a day, and had not been moved to another tub by then."""
        standing = [plant for plant in arm.plants if self.roster.lost_on(plant, by=day.first) is None]
        return tuple(plant for plant in standing if not self._left(arm, plant, day))

    def _left(self, arm: ArmPlants, plant: str, day: Day) -> bool:
        moved = None if arm.arm.kind == "varieties" else self.roster.moved_on(plant)
        return moved is not None and moved.day.first <= day.last

    def stayed(self, arm: ArmPlants) -> tuple[str, ...]:
        """The plants of an arm that were not moved to another tub."""
        if arm.arm.kind == "varieties":
            return arm.plants
        return tuple(plant for plant in arm.plants if self.roster.moved_on(plant) is None)


def _arm(arm: Arm, setup: Setup) -> ArmPlants:
    if arm.kind == "varieties":
        name = setup.variety_name(arm.key)
        return ArmPlants(arm, name, tr("with {variety}", variety=name))
    if arm.kind == "tubs":
        return ArmPlants(arm, arm.key, in_tub_words(arm.key))
    return ArmPlants(arm, arm.key, tr("in the {group} group", group=arm.key))
