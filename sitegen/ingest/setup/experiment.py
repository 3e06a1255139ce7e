"""The set-up of an experiment: everything above the log in experiment.yaml, with its episodes.

In: the file's fields and the library. Out: a `Setup`, or None where its crop, start, plants or tubs are unknown.
Chapters of an episode that are out of order or too late become findings.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from sitegen.core.language.text import listed
from sitegen.core.records.setup import (
    Answer,
    Chapter,
    Claims,
    Correction,
    Episode,
    Plant,
    Seed,
    Setup,
    SharedTub,
    ViewerQuestion,
)
from sitegen.core.values.day import Start
from sitegen.ingest.library import Library
from sitegen.ingest.setup.from_memory import (
    is_from_memory,
    memory_of,
    rough_plants,
    rough_start,
    rough_tubs,
    rough_varieties,
)
from sitegen.ingest.setup.plants import LONE_TUB, groups_of, plant_ids, tubs_of, varieties_of
from sitegen.ingest.values.dates import parse_date
from sitegen.ingest.values.plants import PlantNames
from sitegen.ingest.yaml.nodes import Items, Scalar, check_id, expect_scalar
from sitegen.ingest.yaml.typed_fields import TypedFields


def episode_of(fields: TypedFields) -> Episode:
    """An episode about the run."""
    length = fields.clock("length")
    return Episode(
        title=fields.text("title"),
        link=fields.link("link"),
        published=fields.date("published"),
        until=fields.day("until"),
        length=length,
        chapters=tuple(_chapters(fields, length)),
    )


def _chapters(fields: TypedFields, length: int | None) -> Iterator[Chapter]:
    """The chapters, each compared with the one before it and with the episode's length."""
    if fields.has("chapters") and not fields.has("length"):
        message = "the last chapter ends with the episode, whose length is not given"
        mend = "write the episode's length beside `chapters`, such as `length: 12:30`"
        fields.report("chapters", "missing-key", message, mend, expected="length")
    before, late, ends = -1, 0, fields.text("length")
    earlier = ""
    for item in fields.nested_list("chapters"):
        at, written = item.clock("at"), item.text("at")
        if at is None:
            continue
        begins = f"the chapter at {written}"
        if at <= before:
            message = f"{begins} does not begin after the one before it, at {earlier}"
            mend, expected = "mend its time, or put the chapters in order", f"a time after {earlier}"
            item.report("at", "chapter-order", message, mend, found=written, expected=expected)
        elif length is not None and at >= length:
            message = f"{begins} begins when the episode has ended, at {ends}"
            mend, expected = "mend its time, or the episode's `length`", f"a time before {ends}"
            late += 1
            item.report("at", "chapter-late", message, mend, found=written, expected=expected)
        before, earlier = at, written
        yield Chapter(at, item.text("title"))
    if late > 1 and length is not None:
        message = f"{late} chapters begin after {ends}, when the episode has ended"
        found, expected = ends, f"more than {earlier}"
        mend = "check the `length` of the episode, or their times"
        fields.report("length", "episode-too-short", message, mend, found=found, expected=expected)


_MONTH = re.compile(r"\d{4}-\d{1,2}")


def read_setup(
    fields: TypedFields, experiment: str, season: str, library: Library
) -> tuple[Setup, PlantNames] | None:
    """The set-up of one experiment, and the names that its log may use."""
    told = is_from_memory(fields)
    plants, number = rough_plants(fields) if told else (plant_ids(fields), None)
    groups = groups_of(fields, plants)
    names = PlantNames(plants, groups, standing=plants)
    tubs, tub_of = (rough_tubs if told else tubs_of)(fields, library, names)
    name = fields.scalar("crop")
    crop = None if name is None else library.crop(name, fields.findings)
    start = _start(fields, year=told)
    apart: tuple[str, ...] | None = None
    if told:
        plants = plants if tub_of else ()  # of plants that no tub can be named for, only the number is told
        apart = rough_varieties(fields, crop, plants) if crop is not None else ()
    variety_of = varieties_of(fields, names, crop) if crop is not None and apart is None else {}
    if crop is None or start is None or not (told or (plants and tubs)):
        return None
    tub_ids = tuple(tub.id for tub in tubs) if len(tubs) > 1 else ()
    names = PlantNames(plants, groups, tub_ids, plants, tuple(tub_of.items()))
    setup = Setup(
        id=experiment,
        season=season,
        source=fields.source.part(0, 1),
        title=fields.text("title"),
        question=fields.text("question"),
        crop=crop,
        start=start,
        plants=tuple(
            Plant(
                id=plant,
                spot=number,
                tub=tub_of.get(plant, tubs[0].id),
                variety=variety_of.get(plant, ""),
                groups=tuple(name for name, members in groups if plant in members),
                source=fields.at("plants"),
            )
            for number, plant in enumerate(plants, 1)
        ),
        tubs=tubs,
        groups=groups if plants else (),
        compare=fields.choice("compare") or None,
        seed=_seed(fields.nested("seed"), start),
        before=fields.text("before"),
        answer=_answer(fields.nested("answer")),
        disclosure=fields.text("disclosure"),
        episodes=tuple(episode_of(item) for item in fields.nested_list("episodes")),
        corrections=tuple(_corrections(fields)),
        publish=fields.date("publish"),
        draft=fields.flag("draft"),
        revised=fields.date("revised"),
        was=_earlier_ids(fields),
        spans=tuple((key, node.source) for key, node in fields.values.items()),
        products=library.products,
        shares=tuple(_shares(fields, tub_ids)),
        from_memory=memory_of(fields, number, apart or ()) if told else None,
        viewer_questions=tuple(_viewer_questions(fields)),
    )
    return setup, names


def _start(fields: TypedFields, *, year: bool) -> Start | None:
    """Day 0, as far as it is known; `year` where a year is enough."""
    scalar = fields.scalar("start")
    if scalar is None:
        return None
    if scalar.text == "unknown":
        return Start()
    if year and (found := rough_start(scalar)):
        return found
    month = _MONTH.fullmatch(scalar.text)
    first = Scalar(f"{scalar.text}-01", scalar.source) if month else scalar
    date = parse_date(first, "start", fields.findings)
    return Start(date, "month" if month else "day") if date else None


def _earlier_ids(fields: TypedFields) -> tuple[str, ...]:
    """The earlier ids of the experiment, which old addresses hold."""
    node = fields.node("was")
    if node is None:
        return ()
    items = node.items if isinstance(node, Items) else (node,)
    scalars = [expect_scalar(item, "was", fields.findings) for item in items]
    return tuple(s.text for s in scalars if s is not None and check_id(s, fields.findings))


def _seed(fields: TypedFields | None, start: Start) -> Seed | None:
    if fields is None:
        return None
    claims = fields.nested("claims")
    _report_packed(fields, start)
    return Seed(fields.text("source"), fields.text("packed"), _claims(claims) if claims else Claims())


_OLDEST = 50  # years; older seed does not come up. Common practice, no source.


def _report_packed(fields: TypedFields, start: Start) -> None:
    """A finding for a year of packing that cannot be: packets for the next year are sold from the autumn on."""
    packed = fields.scalar("packed")
    year = re.search(r"(?<!\d)\d{4}(?!\d)", packed.text) if packed is not None else None
    if packed is None or year is None or start.latest is None:
        return
    sown = start.latest.year
    if sown - _OLDEST <= int(year.group()) <= sown + 1:
        return
    when = "after" if int(year.group()) > sown else "long before"
    message = f"seed packed in {year.group()}, {when} the start in {sown}"
    place = packed.part(year.start(), 4)
    mend, expected = "check the year", f"{sown} or a few years earlier"
    fields.findings.add("packed-later", place, message, mend=mend, found=year.group(), expected=expected)


def _claims(fields: TypedFields) -> Claims:
    counted_from = fields.choice("from")
    days = fields.day("days")
    if days is not None and not fields.has("from"):
        message = "the claimed days count from sowing or from transplanting; it is not said which"
        mend = "write `from: sowing` or `from: transplant` beside `days`"
        fields.report("days", "missing-key", message, mend, expected="from")
    return Claims(
        days, counted_from, fields.quantity("height"), fields.quantity("germination"), fields.text("by")
    )


def _answer(fields: TypedFields | None) -> Answer | None:
    if fields is None:
        return None
    answer = Answer(
        fields.choice("verdict") or None, fields.text("why"), fields.text("change"), fields.text("result")
    )
    return None if answer == Answer() else answer


def _corrections(fields: TypedFields) -> Iterator[Correction]:
    for item in fields.nested_list("corrections"):
        if (when := item.date("date")) is not None:
            yield Correction(when, item.text("text"))


def _viewer_questions(fields: TypedFields) -> Iterator[ViewerQuestion]:
    for item in fields.nested_list("viewer_questions"):
        if asked := item.text("asked"):
            yield ViewerQuestion(asked, item.text("answer"), item.at("asked"))


def _shares(fields: TypedFields, tubs: Sequence[str]) -> Iterator[SharedTub]:
    """The tubs that are shared with other runs, each once for each of them; `tubs` is empty where there is one."""
    found: list[SharedTub] = []
    for item in fields.nested_list("shares"):
        other, tub = item.scalar("with"), _shared_tub(item, tubs)
        if other is None or not check_id(other, fields.findings) or not tub:
            continue
        share = SharedTub(tub, other.text, other.source)
        if any((each.tub, each.run) == (share.tub, share.run) for each in found):
            message, mend = f"`{share.tub}` is shared with `{share.run}` twice", "write it once"
            other.report(fields.findings, "duplicate-id", message, mend)
            continue
        found.append(share)
    yield from found


def _shared_tub(item: TypedFields, tubs: Sequence[str]) -> str:
    """The tub that is meant; empty where there is none of that name."""
    tub = item.scalar("tub")
    if tub is None:
        if not tubs:
            return LONE_TUB
        message = "`shares` does not say which tub"
        mend = f"write {listed([f'`tub: {each}`' for each in tubs], 'or')} beside `with`"
        item.report("tub", "which-tub", message, mend, expected=", ".join(tubs))
        return ""
    if tub.text in tubs or (not tubs and tub.text == LONE_TUB):
        return tub.text
    message = f"this experiment has one tub, and none is called `{tub.text}`"
    if tubs:
        message = f"`{tub.text}` is not a tub of this experiment; there are {listed(tubs)}"
    tub.report_unknown(item.findings, "unknown-plant", message, tubs, "leave `tub` out")
    return ""
