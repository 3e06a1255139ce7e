"""Walks over all that a site says of its figures: the demo, and random journals written to files and published."""

from __future__ import annotations

import shutil
import tempfile
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import fields, is_dataclass
from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given, settings

from sitegen.app.main import status_of
from sitegen.core.facts.figure import NOTHING_YET, Figure, Named, figures
from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import using_catalogue
from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Run
from sitegen.core.values.quantity import Quantity
from sitegen.ingest import read_journal
from sitegen.pipeline.facts import facts_of
from tests.conftest import DEMO, TODAY
from tests.page_walks import Walk, conversions, figures_in, forbidden, pairs, rounding_notes, texts_of
from tests.random_journals import JOURNALS, RandomJournal

FULL = settings().max_examples >= 1000
SITES = settings(max_examples=500 if FULL else 8, suppress_health_check=list(HealthCheck))
LOGS = settings(max_examples=500 if FULL else 20, suppress_health_check=list(HealthCheck))


@contextmanager
def published(root: Path) -> Iterator[Path | None]:
    """The site of a journal in a folder of its own; None where its log has errors."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "site"
        status = status_of(["write", str(root), "-o", str(out), "--today", str(TODAY)])
        yield out if status == 0 else None


@contextmanager
def on_disk(journal: RandomJournal) -> Iterator[Path]:
    """The files of a random journal."""
    with tempfile.TemporaryDirectory() as folder:
        yield journal.write(Path(folder) / "journal")


def facts_and_wording(root: Path) -> tuple[tuple[Facts, ...], Wording]:
    """The facts of a journal, and its words."""
    files, facts, _ = facts_of(root, (), TODAY)
    assert files is not None
    with using_catalogue(files.catalogue):
        return facts, Wording(files.journal.units, files.journal.language)


def run_of(page: Path) -> str:
    """The run whose page or record it is."""
    return page.parent.name if page.name == "record.html" else page.stem


def walk_figures(site: Path, root: Path) -> Counter[str]:
    """Every figure on every page has the words of the facts, in full or as a sentence says it."""
    facts, wording = facts_and_wording(root)
    journal_files, _ = read_journal(root)
    assert journal_files is not None
    met: Counter[str] = Counter()
    with using_catalogue(journal_files.catalogue):
        known = {each.id: {figure.name: figure for figure in figures(each)} for each in facts}
        for page in sorted(site.rglob("*.html")):
            for experiment, name, said in figures_in(page):
                figure = known[experiment or run_of(page)][name]
                allowed = [" ".join(say(figure).split()) for say in (wording.say, wording.say_in_sentence)]
                allowed += [text[:1].upper() + text[1:] for text in allowed]
                assert said in allowed, (page.name, name, said, allowed)
                met[page.relative_to(site).parts[0]] += 1
    return met


def walk_texts(site: Path, language: str, *, one_system: bool) -> Walk:
    """Every text of every file of a site: pairs of units, one conversion of an amount a page, nothing forbidden."""
    whole = Walk()
    for path in sorted(site.rglob("*")):
        if path.suffix not in (".html", ".csv", ".json", ".svg", ".xml"):
            continue
        walk = Walk()
        for text in texts_of(path):
            pairs(text, language, walk)
            rounding_notes(text, language, walk)
            forbidden(text, language, walk)
        # An amount written in ounces and one written in grams may be displayed alike in one of the two.
        walk.faults += conversions(walk) if one_system else []
        whole.faults += [f"{path.name}: {fault}" for fault in walk.faults]
        whole.cases += walk.cases
        whole.bounds += walk.bounds
        whole.notes += walk.notes
    return whole


def breakdowns(node: object, path: str = "") -> Iterator[tuple[str, Figure, list[Figure]]]:
    """Every breakdown of a part of the facts with its total, found by the names of the fields.

    `by_plant` beside `total`; `visits_by_phase` beside `visits`; the `water` of each of several tubs beside `water`.
    """
    if isinstance(node, tuple):
        for index, item in enumerate(node):
            yield from breakdowns(item, f"{path}[{index}]")
    if not is_dataclass(node) or isinstance(node, (type, Figure, Quantity, Run, Named)):
        return
    values = {each.name: getattr(node, each.name) for each in fields(node)}
    for name, value in values.items():
        if isinstance(value, tuple) and value:
            if all(isinstance(item, Named) for item in value) and "by_" in name:
                total = values.get(name.partition("_by_")[0] if "_by_" in name else "total")
                rows = [item.figure for item in value]
                rows += [values["shared"]] if name == "by_plant" and "shared" in values else []
                if isinstance(total, Figure):
                    yield f"{path}.{name}", total, rows
            # Tubs part the run; stages and products do not.
            if name != "tubs":
                yield from breakdowns(value, f"{path}.{name}")
                continue
            for each in fields(value[0]):
                total, parts = values.get(each.name), [getattr(item, each.name, None) for item in value]
                rows = [part for part in parts if isinstance(part, Figure)]
                if (
                    isinstance(total, Figure)
                    and isinstance(total.value, Quantity)
                    and len(rows) == len(parts)
                ):
                    yield f"{path}.{name}[].{each.name}", total, rows
        yield from breakdowns(value, f"{path}.{name}")


def interval(figure: Figure, like: Quantity) -> Quantity:
    """The amount of a row: anything where it may have a share of it, none where nothing was picked."""
    if isinstance(figure.value, Quantity):
        return figure.value
    return Quantity(0.0, 0.0 if NOTHING_YET in figure.remarks else None, like.dimension)


def check_breakdowns(facts: Facts, met: Counter[str]) -> None:
    """For each total in its interval some amounts within those of the rows add up to it; exact rows never exceed it."""
    for name, total, rows in breakdowns(facts):
        if not isinstance(total.value, Quantity):
            continue
        whole, parts = total.value, [interval(row, total.value) for row in rows]
        highs = [part.high for part in parts if part.high is not None]
        case = (facts.id, name, total, rows)
        assert sum(part.low for part in parts) <= whole.low + 1e-6, case
        assert len(highs) < len(parts) or (whole.high is not None and sum(highs) >= whole.high - 1e-6), case
        met[name] += 1


def test_every_place_of_a_random_site_says_what_the_facts_say() -> None:
    """Figures, pairs of units and amounts on all pages of random journals agree, in both languages and systems."""
    met: Counter[str] = Counter()

    @SITES
    @given(JOURNALS)
    def walk(journal: RandomJournal) -> None:
        with on_disk(journal) as root, published(root) as site:
            assume(site is not None)
            assert site is not None
            met.update(walk_figures(site, root))
            found = walk_texts(site, journal.language, one_system=journal.metric)
            assert found.faults == []
            met.update(
                {
                    "texts": found.cases,
                    "bounds": found.bounds,
                    "notes": found.notes,
                    journal.language: 1,
                    journal.units: 1,
                }
            )

    walk()
    assert min(met["experiments"], met["texts"]) > 500, met
    assert min(met["bounds"], met["notes"], met["crops"]) > 20, met
    assert all(met[drawn] for drawn in ("en", "de", "us", "metric")), met


def test_every_breakdown_of_a_random_journal_adds_up() -> None:
    """Each breakdown that a walk over the facts finds can make up its total."""
    met: Counter[str] = Counter()

    @LOGS
    @given(JOURNALS)
    def walk(journal: RandomJournal) -> None:
        with on_disk(journal) as root:
            for facts in facts_and_wording(root)[0]:
                check_breakdowns(facts, met)

    walk()
    assert {
        f".harvest.by_{part}" for part in ("plant", "group", "variety", "tub", "part", "grade", "flush")
    } <= set(met)
    assert sum(met.values()) > 100, met


def walk_demo(root: Path, site: Path, language: str) -> None:
    """The figures, the texts and the breakdowns of the demo or of a copy of it."""
    met: Counter[str] = Counter()
    for facts in facts_and_wording(root)[0]:
        check_breakdowns(facts, met)
    met.update(walk_figures(site, root))
    found = walk_texts(site, language, one_system=False)
    assert found.faults == []
    assert min(met["experiments"], found.cases) > 1000
    assert min(found.bounds, met[".harvest.by_plant"]) > 9


def test_every_place_of_the_demo_says_what_the_facts_say(demo_site: Path) -> None:
    """The same of the demo; and its breakdowns add up."""
    walk_demo(DEMO, demo_site, "en")


@pytest.mark.full
def test_every_place_of_the_demo_in_german_with_us_units_first(tmp_path: Path) -> None:
    """The same of the demo in the other language and the other units."""
    root = tmp_path / "demo"
    shutil.copytree(DEMO, root)
    head = root / "journal.yaml"
    told = head.read_text("utf-8").replace("language: en", "language: de")
    head.write_text(told.replace("units: metric", "units: us"), "utf-8")
    with published(root) as site:
        assert site is not None
        walk_demo(root, site, "de")
