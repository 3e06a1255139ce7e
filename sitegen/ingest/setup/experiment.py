"""The head of experiment.yaml: everything above the log.

In: the file's mapping and the library. Out: a `Setup`, or None where its plants or references cannot be known.
"""

from __future__ import annotations

from sitegen.core.findings.finding import Findings
from sitegen.core.records.setup import Plant, Setup
from sitegen.ingest.journal import ExperimentFolder, JournalFiles
from sitegen.ingest.library import Library
from sitegen.ingest.setup.about import (
    answer_of,
    check_format,
    corrections_of,
    earlier_ids,
    episode_of,
    seed_of,
    start_of,
)
from sitegen.ingest.setup.plants import groups_of, plant_ids, varieties_of
from sitegen.ingest.setup.tubs import tubs_of
from sitegen.ingest.text_files import read_text
from sitegen.ingest.values.plants import PlantNames
from sitegen.ingest.yaml.nodes import expect_mapping
from sitegen.ingest.yaml.parser import parse
from sitegen.ingest.yaml.typed_fields import TypedFields, read_fields


def read_setup(
    fields: TypedFields, experiment: str, season: str, library: Library, findings: Findings
) -> tuple[Setup, PlantNames] | None:
    """The set-up of one experiment, and the names that its log may use."""
    check_format(fields)
    plants = plant_ids(fields)
    groups = groups_of(fields, plants)
    names = PlantNames(plants, groups, standing=plants)
    tubs, tub_of = tubs_of(fields, library, names)
    name = fields.scalar("crop")
    crop = None if name is None else library.crop(name, findings)
    variety_by_plant = varieties_of(fields, names, crop) if crop is not None else ()
    start = start_of(fields)
    if crop is None or start is None or not plants or not tubs:
        return None
    names = PlantNames(plants, groups, tuple(t.id for t in tubs) if len(tubs) > 1 else (), plants, tub_of)
    variety = dict(variety_by_plant)
    tub_for = dict(tub_of)
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
                tub=tub_for.get(plant, tubs[0].id),
                variety=variety.get(plant, ""),
                groups=tuple(name for name, members in groups if plant in members),
                source=fields.at("plants"),
            )
            for number, plant in enumerate(plants, 1)
        ),
        tubs=tubs,
        groups=groups,
        seed=seed_of(fields.nested("seed")),
        before=fields.text("before"),
        answer=answer_of(fields.nested("answer")),
        disclosure=fields.text("disclosure"),
        episodes=tuple(episode_of(item) for item in fields.nested_list("episodes")),
        corrections=tuple(corrections_of(fields)),
        publish=fields.date("publish"),
        draft=fields.flag("draft"),
        revised=fields.date("revised"),
        was=earlier_ids(fields),
        spans=tuple((key, node.source) for key, node in fields.values.items()),
        products=library.products,
    )
    return setup, names


def read_setup_without_log(folder: ExperimentFolder, journal_files: JournalFiles) -> Setup | None:
    """The set-up that the head alone gives."""
    findings = Findings()
    text = read_text(folder.path / "experiment.yaml", journal_files.root, findings) or ""
    node = parse(text.partition("\nlog:")[0] + "\n", folder.id, findings)
    mapping = expect_mapping(node, folder.id, findings) if node is not None else None
    if mapping is None:
        return None
    fields = read_fields(mapping, "experiment", findings)
    found = read_setup(fields, folder.id, folder.season, journal_files.library, findings)
    return found[0] if found is not None else None
