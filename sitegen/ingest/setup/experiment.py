"""The set-up of an experiment: everything above the log in experiment.yaml.

In: the file's fields and the library. Out: a `Setup`, or None where its crop, start, plants or tubs are unknown.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from sitegen.core.records.setup import Answer, Claims, Correction, Plant, Seed, Setup
from sitegen.core.values.day import Start
from sitegen.ingest.library import Library
from sitegen.ingest.setup.episodes import episode_of
from sitegen.ingest.setup.plants import groups_of, plant_ids, varieties_of
from sitegen.ingest.setup.tubs import tubs_of
from sitegen.ingest.values.dates import parse_date
from sitegen.ingest.values.plants import PlantNames
from sitegen.ingest.yaml.nodes import Items, Scalar, check_id, expect_scalar
from sitegen.ingest.yaml.typed_fields import TypedFields

_MONTH = re.compile(r"\d{4}-\d{2}")


def read_setup(
    fields: TypedFields, experiment: str, season: str, library: Library
) -> tuple[Setup, PlantNames] | None:
    """The set-up of one experiment, and the names that its log may use."""
    plants = plant_ids(fields)
    groups = groups_of(fields, plants)
    names = PlantNames(plants, groups, standing=plants)
    tubs, tub_of = tubs_of(fields, library, names)
    name = fields.scalar("crop")
    crop = None if name is None else library.crop(name, fields.findings)
    variety_of = varieties_of(fields, names, crop) if crop is not None else {}
    start = _start(fields)
    if crop is None or start is None or not plants or not tubs:
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
        groups=groups,
        seed=_seed(fields.nested("seed")),
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
    )
    return setup, names


def _start(fields: TypedFields) -> Start | None:
    """Day 0, as far as it is known."""
    scalar = fields.scalar("start")
    if scalar is None:
        return None
    if scalar.text == "unknown":
        return Start()
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


def _seed(fields: TypedFields | None) -> Seed | None:
    if fields is None:
        return None
    claims = fields.nested("claims")
    return Seed(fields.text("source"), fields.text("packed"), _claims(claims) if claims else Claims())


def _claims(fields: TypedFields) -> Claims:
    counted_from = fields.choice("from")
    days = fields.day("days")
    if days is not None and not counted_from:
        message = "the packet's days count from sowing or from transplanting; it is not said which"
        mend = "write `from: sowing` or `from: transplant` beside `days`"
        fields.report("days", "missing-key", message, mend, expected="from")
    return Claims(days, counted_from, fields.quantity("height"), fields.quantity("germination"))


def _answer(fields: TypedFields | None) -> Answer | None:
    if fields is None:
        return None
    verdict = fields.choice("verdict")
    return Answer(verdict, fields.text("why"), fields.text("change")) if verdict else None


def _corrections(fields: TypedFields) -> Iterator[Correction]:
    for item in fields.nested_list("corrections"):
        if (when := item.date("date")) is not None:
            yield Correction(when, item.text("text"))
