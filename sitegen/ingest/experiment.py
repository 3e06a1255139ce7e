"""The head of experiment.yaml: everything above the log.

In: the file's mapping and the library. Out: a `Setup`, or None where its plants or references cannot be known.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.core.day import Start
from sitegen.core.finding import Findings, Source
from sitegen.core.format import FORMAT
from sitegen.core.rows import Which
from sitegen.core.setup import (
    Answer,
    Claims,
    Correction,
    Crop,
    Episode,
    LampUse,
    Plant,
    Seed,
    Setup,
    Tub,
)
from sitegen.core.text import listed
from sitegen.ingest.dates import parse_date, parse_day
from sitegen.ingest.expect import check_id, expect_mapping, expect_scalar
from sitegen.ingest.library import Library, variety_of
from sitegen.ingest.nodes import Items, Mapping, Node, Scalar
from sitegen.ingest.reader import Read, read_table
from sitegen.ingest.values import parse_whole
from sitegen.ingest.which import Names, parse_which

__all__ = ["LONE_TUB", "MAX_PLANTS", "check_format", "parse_light", "read_setup"]

LONE_TUB = "tub"
MAX_PLANTS = 2000
_MONTH = re.compile(r"\d{4}-\d{2}")


def check_format(read: Read) -> None:
    """Refuse a format that a later version may write."""
    version = read.whole("format")
    if version is not None and version != FORMAT:
        read.findings.add(
            "format-version",
            read.at("format"),
            f"format {version} is not known; this version reads format {FORMAT}",
            mend=f"write `format: {FORMAT}`",
            found=str(version),
            expected=str(FORMAT),
        )


def read_setup(
    read: Read, experiment: str, season: str, library: Library, findings: Findings
) -> tuple[Setup, Names] | None:
    """The set-up of one experiment, and the names that its log may use."""
    check_format(read)
    head = _Head(read, library, findings)
    plants = head.plant_ids()
    groups = head.groups(plants)
    names = Names(plants, groups, standing=plants)
    tubs, tub_of = head.tubs(names)
    crop = head.crop()
    variety_by_plant = head.varieties(names, crop) if crop is not None else ()
    start = head.start()
    if crop is None or start is None or not plants or not tubs:
        return None
    names = Names(plants, groups, tuple(t.id for t in tubs) if len(tubs) > 1 else (), plants, tub_of)
    variety = dict(variety_by_plant)
    tub_for = dict(tub_of)
    setup = Setup(
        id=experiment,
        season=season,
        source=read.source.part(0, 1),
        title=read.text("title"),
        question=read.text("question"),
        crop=crop,
        start=start,
        plants=tuple(
            Plant(
                id=plant,
                spot=number,
                tub=tub_for.get(plant, tubs[0].id),
                variety=variety.get(plant, ""),
                groups=tuple(name for name, members in groups if plant in members),
                source=read.at("plants"),
            )
            for number, plant in enumerate(plants, 1)
        ),
        tubs=tubs,
        groups=groups,
        seed=_seed(read.sub("seed")),
        before=read.text("before"),
        answer=_answer(read.sub("answer")),
        disclosure=read.text("disclosure"),
        episodes=tuple(_episode(item, findings) for item in read.subs("episodes")),
        corrections=tuple(_corrections(read)),
        publish=read.date("publish"),
        draft=read.flag("draft"),
        revised=read.date("revised"),
        was=head.earlier_ids(),
        spans=tuple((key, node.source) for key, node in read.values.items()),
        products=library.products,
    )
    return setup, names


@dataclass(frozen=True, slots=True)
class _Head:
    """Reads the parts of the head that refer to each other."""

    read: Read
    library: Library
    findings: Findings

    def plant_ids(self) -> tuple[str, ...]:
        node = self.read.node("plants")
        if isinstance(node, Items):
            return self._listed_ids(node)
        if node is None:
            return ()
        scalar = expect_scalar(node, "plants", self.findings, example="6")
        number = parse_whole(scalar, self.findings, "plants") if scalar else None
        if number is None:
            return ()
        if not 0 < number <= MAX_PLANTS:
            self.findings.add(
                "count-of-plants",
                node.source,
                f"an experiment has 1 to {MAX_PLANTS} plants, not {number}",
                mend="write how many plants the run had",
                found=str(number),
            )
            return ()
        return tuple(f"P{n}" for n in range(1, number + 1))

    def _listed_ids(self, node: Items) -> tuple[str, ...]:
        ids: list[str] = []
        for item in node.items:
            scalar = expect_scalar(item, "plants", self.findings, example="[P1, P2]")
            if scalar is None or not check_id(scalar, self.findings):
                continue
            if scalar.text in ids:
                self.findings.add(
                    "duplicate-id",
                    scalar.source,
                    f"the plant `{scalar.text}` is named twice",
                    mend="give each plant a name of its own",
                    found=scalar.text,
                )
                continue
            ids.append(scalar.text)
        return tuple(ids)

    def groups(self, plants: tuple[str, ...]) -> tuple[tuple[str, tuple[str, ...]], ...]:
        node = self.read.node("groups")
        if not isinstance(node, Mapping):
            if node is not None:
                self._wrong("groups", node, "{single: P1-P3, pair: P4-P6}")
            return ()
        names = Names(plants, standing=plants)
        found: list[tuple[str, tuple[str, ...]]] = []
        for pair in node:
            if not check_id(pair.key, self.findings):
                continue
            if pair.key.text in plants:
                self._twice(pair.key, "a plant")
                continue
            which = parse_which(pair.value, names, self.findings, pair.key.text)
            if which is not None and which.named:
                found.append((pair.key.text, which.ids))
        return tuple(found)

    def _wrong(self, key: str, node: Node, example: str) -> None:
        self.findings.add(
            "wrong-type",
            node.source,
            f"`{key}` wants a mapping",
            mend=f"write `{key}: {example}`",
            expected="a mapping",
        )

    def _twice(self, name: Scalar, what: str) -> None:
        self.findings.add(
            "duplicate-id",
            name.source,
            f"`{name.text}` is already the name of {what}",
            mend="choose another name",
            found=name.text,
        )

    def tubs(self, names: Names) -> tuple[tuple[Tub, ...], tuple[tuple[str, str], ...]]:
        several = self.read.node("tubs")
        if several is not None:
            return self._several(names)
        name = self.read.scalar("system")
        if name is None:
            self.findings.add(
                "missing-key",
                self.read.source.part(0, 1),
                "`system` is missing: what the plants grew in",
                mend="write `system:` with an id of gear.yaml, or `tubs:` for several",
                expected="system",
            )
            return (), ()
        system = self.library.system(name, self.findings)
        light = parse_light(self.read.node("light"), self.library, self.findings)
        if system is None:
            return (), ()
        return (Tub(LONE_TUB, system, light),), tuple((plant, LONE_TUB) for plant in names.plants)

    def _several(self, names: Names) -> tuple[tuple[Tub, ...], tuple[tuple[str, str], ...]]:
        common = parse_light(self.read.node("light"), self.library, self.findings)
        tubs: list[Tub] = []
        tub_of: dict[str, str] = {}
        for name, read in self.read.named("tubs"):
            if name.text in names.known:
                self._twice(name, "a plant or group")
                continue
            wanted = read.scalar("system")
            system = self.library.system(wanted, self.findings) if wanted else None
            own = parse_light(read.node("light"), self.library, self.findings)
            node = read.node("plants")
            which = parse_which(node, names, self.findings, "plants") if node is not None else None
            for plant in which.ids if which else ():
                self._once(plant, tub_of, read.at("plants"), "tub")
                tub_of[plant] = name.text
            if system is not None:
                tubs.append(Tub(name.text, system, own or common))
        if tubs and len(tubs) == len(self.read.node("tubs").pairs):  # type: ignore[union-attr]
            self._nobody_left_out(names, tub_of, "tubs")
        return tuple(tubs), tuple(tub_of.items())

    def _once(self, plant: str, seen: dict[str, str], source: Source, what: str) -> None:
        if plant in seen:
            self.findings.add(
                "plants-in-two",
                source,
                f"`{plant}` stands in two {'tubs' if what == 'tub' else 'varieties'}",
                mend=f"name `{plant}` once; a later change is a `move` in the log"
                if what == "tub"
                else f"name `{plant}` once",
                found=plant,
            )

    def _nobody_left_out(self, names: Names, seen: dict[str, str], key: str) -> None:
        left = [plant for plant in names.plants if plant not in seen]
        if left:
            self.findings.add(
                "plant-left-out",
                self.read.at(key),
                f"`{key}` leaves out {listed(left)}",
                mend=f"say where {listed(left)} {'belong' if len(left) > 1 else 'belongs'}",
                found=", ".join(left),
            )

    def crop(self) -> Crop | None:
        name = self.read.scalar("crop")
        return None if name is None else self.library.crop(name, self.findings)

    def varieties(self, names: Names, crop: Crop) -> tuple[tuple[str, str], ...]:
        node = self.read.node("variety")
        if node is None:
            return ()
        if isinstance(node, Mapping):
            return self._varieties_by_plant(node, names, crop)
        name = expect_scalar(node, "variety", self.findings, example="tiny-jade")
        variety = variety_of(crop, name, self.findings) if name else None
        return tuple((plant, variety.id) for plant in names.plants) if variety else ()

    def _varieties_by_plant(self, node: Mapping, names: Names, crop: Crop) -> tuple[tuple[str, str], ...]:
        seen: dict[str, str] = {}
        for pair in node:
            which: Which | None = parse_which(pair.key, names, self.findings, "variety")
            name = expect_scalar(pair.value, pair.key.text, self.findings)
            variety = variety_of(crop, name, self.findings) if name else None
            for plant in which.ids if which and variety else ():
                self._once(plant, seen, pair.key.source, "variety")
                seen[plant] = variety.id if variety else ""
        if seen:
            self._nobody_left_out(names, seen, "variety")
        return tuple(seen.items())

    def start(self) -> Start | None:
        scalar = self.read.scalar("start")
        if scalar is None:
            return None
        if scalar.text == "unknown":
            return Start()
        if _MONTH.fullmatch(scalar.text):
            month = parse_date(Scalar(f"{scalar.text}-01", scalar.source), "start", self.findings)
            return Start(month, "month") if month else None
        day = parse_date(scalar, "start", self.findings)
        return Start(day, "day") if day else None

    def earlier_ids(self) -> tuple[str, ...]:
        node = self.read.node("was")
        if node is None:
            return ()
        items = node.items if isinstance(node, Items) else (node,)
        scalars = [expect_scalar(item, "was", self.findings) for item in items]
        return tuple(s.text for s in scalars if s is not None and check_id(s, self.findings))


def parse_light(node: Node | None, library: Library, findings: Findings) -> LampUse | None:
    """A lamp's setting: a mapping, or `off`."""
    if node is None:
        return None
    if isinstance(node, Scalar):
        if node.text == "off":
            return LampUse(off=True)
        findings.add(
            "wrong-type",
            node.source,
            "`light` wants a mapping, or `off`",
            mend=f"write `light: {{hours: {node.text if re.match('[0-9]', node.text) else '14 h'}}}`, or `off`",
            found=node.text,
            expected="a mapping, or `off`",
        )
        return None
    if isinstance(node, Items):
        expect_mapping(node, "light", findings, example="{hours: 14 h}")
        return None
    read = read_table(node, "light", findings)
    name = read.scalar("lamp")
    lamp = library.lamp(name, findings) if name else None
    return LampUse(lamp, read.quantity("hours"), read.quantity("distance"))


def _seed(read: Read | None) -> Seed | None:
    if read is None:
        return None
    claims = read.sub("claims")
    return Seed(read.text("source"), read.text("packed"), _claims(claims) if claims else Claims())


def _claims(read: Read) -> Claims:
    counted: str = read.choice("from")
    days = read.day("days")
    if days is not None and not counted:
        read.findings.add(
            "missing-key",
            read.at("days"),
            "the packet's days count from sowing or from transplanting; it is not said which",
            mend="write `from: sowing` or `from: transplant` beside `days`",
            expected="from",
        )
    return Claims(
        days,
        "sowing" if counted == "sowing" else "transplant" if counted == "transplant" else "",
        read.quantity("height"),
        read.quantity("germination"),
    )


def _answer(read: Read | None) -> Answer | None:
    if read is None:
        return None
    verdict = read.choice("verdict")
    for known in ("again", "not again", "undecided"):
        if verdict == known:
            return Answer(known, read.text("why"))
    return None


def _episode(read: Read, findings: Findings) -> Episode:
    until = read.scalar("until")
    return Episode(
        title=read.text("title"),
        link=read.text("link"),
        published=read.date("published"),
        until=parse_day(until, "until", findings) if until else None,
    )


def _corrections(read: Read) -> Iterator[Correction]:
    for item in read.subs("corrections"):
        when: dt.date | None = item.date("date")
        if when is not None:
            yield Correction(when, item.text("text"))
