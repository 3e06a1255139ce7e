"""What an input's digest stands for: it changes with what a step would be told, and with nothing else."""

from __future__ import annotations

import pickle
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from sitegen.core.site.site_map import RunLink, SiteMap
from sitegen.ingest import JournalFiles, read_journal
from sitegen.memo import Memo
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.engine.files import Digests, inventory
from sitegen.pipeline.engine.snapshot import (
    NotToldError,
    Settings,
    Snapshot,
    has_own_templates,
    theme_of,
    theme_where_needed,
)
from tests.pipeline.bench import TODAY, Site, leaf

JOURNAL = "journal.yaml"
DIGESTS = ("library", "wording", "raw_html", "note_templates", "prices", "site", "run_ids")


def start(folder: Path) -> Site:
    """A journal with prices, a page of the author's, and templates of its own."""
    site = Site.of(
        folder,
        {"one": leaf("First"), "two": leaf("Second", "tomato", start="2026-03-10")},
        **{
            "about.md": "# About\n\nAs it was.\n",
            "look/notes/script.md": "As it was.\n",
            "look/assets/look.css": "p { color: teal }\n",
        },
    )
    site.edit(JOURNAL, "title:", "prices: {currency: EUR, electricity: 0.30 per kWh}\ntitle:")
    return site


def journal_of(site: Site) -> JournalFiles:
    """The journal as it is now."""
    found, findings = read_journal(site.root)
    assert found is not None
    assert [each for each in findings if each.is_error] == []
    return found


@contextmanager
def built(site: Site) -> Iterator[Build]:
    """A build of the journal as it is now, its runs published and summarized."""
    files = journal_of(site)
    with site.own_cache(), Memo() as memo:
        digests = Digests(site.root, inventory(site.root), memo)
        build = Build(Settings(files, theme_of(files)[0]), digests, memo, TODAY, jobs=1)
        build.check()
        build.publish([check.link for check in build.checks.values() if check.link is not None])
        build.summarize()
        yield build


def _put(place: str, text: str) -> Callable[[Site], None]:
    def put(site: Site) -> None:
        (site.root / place).parent.mkdir(parents=True, exist_ok=True)
        (site.root / place).write_text(text, "utf-8")

    return put


def _edit(place: str, old: str, new: str) -> Callable[[Site], None]:
    return lambda site: site.edit(place, old, new)


@pytest.mark.parametrize(
    ("change", "changed"),
    [
        (_edit("crops.yaml", "Amber", "Umber"), {"library", "site"}),
        (_edit("gear.yaml", "power: 40 W", "power: 45 W"), {"library", "site"}),
        (_edit(JOURNAL, "title:", "timezone: Asia/Tokyo\ntitle:"), {"library", "site"}),
        (_edit(JOURNAL, "title:", "ignore: [drafts]\ntitle:"), {"library", "site"}),
        (_edit(JOURNAL, "title:", "units: us\ntitle:"), {"library", "wording", "site"}),
        (_edit(JOURNAL, "title:", "language: de\ntitle:"), {"wording", "site"}),
        (_put("look/words/en.po", 'msgid "Home"\nmsgstr "Top"\n'), {"wording", "site"}),
        (_edit(JOURNAL, "title:", "raw_html: true\ntitle:"), {"raw_html", "site"}),
        (_edit(JOURNAL, "example.org", "example.com"), {"note_templates", "site"}),
        (_put("look/notes/script.md", "As it is.\n"), {"note_templates", "site"}),
        (_edit(JOURNAL, "0.30", "0.31"), {"prices", "site"}),
        (_edit(JOURNAL, "Test bench", "Bench"), {"site"}),
        (_edit(JOURNAL, "title:", "output: ../public\ntitle:"), set()),
        (_edit(JOURNAL, "title:", "# Begun in March.\ntitle:"), set()),
        (_edit("about.md", "As it was", "As it is"), set()),
        (_edit("about.md", "# About", "# Us"), {"site"}),
        (_edit("seasons/one/season.yaml", "one", "two"), {"site"}),
        (_put("look/assets/look.css", "p { color: red }\n"), {"site"}),
        (_put("seasons/one/three/experiment.yaml", leaf("Third")), {"run_ids"}),
        (_edit("seasons/one/one/experiment.yaml", "as it was", "as it is"), set()),
    ],
)
def test_what_all_runs_share(tmp_path: Path, change: Callable[[Site], None], changed: set[str]) -> None:
    """Each setting changes the digests of the questions that tell it, and no others."""
    site = start(tmp_path)
    found: list[dict[str, str]] = []
    for edit in (lambda _: None, change):
        edit(site)
        files = journal_of(site)
        settings = Settings(files, theme_of(files)[0])
        with Memo(tmp_path / "memo") as memo:
            snapshot = Snapshot(settings, memo, TODAY, {})
            found.append({kind: snapshot.digest(kind) for kind in DIGESTS})
    before, after = found

    assert {kind for kind in DIGESTS if before[kind] != after[kind]} == changed
    assert len(set(before.values())) == len(DIGESTS)


OTHERS = (
    *("records one", "recap one", "neighbours one", "summaries", "summaries crop leaf", "nearest two"),
    *("for_outlook two x", "searched", "text about", "address one", "published one", "names", "has_feed"),
    *("title one", "runs", "texts"),
)


@pytest.mark.parametrize(
    ("change", "changed"),
    [
        (
            _edit("seasons/one/one/experiment.yaml", "as it was", "as it is"),
            {"records one", "searched"},
        ),
        (
            _edit("seasons/one/one/experiment.yaml", "9 cm", "8 cm"),
            {"records one", "summaries", "summaries crop leaf"},
        ),
        (
            _edit(
                "seasons/one/one/experiment.yaml", "- day: 20", "- day: 12\n    ec: 1.2 mS/cm\n  - day: 20"
            ),
            {"records one", "summaries", "summaries crop leaf", "nearest two"},
        ),
        (
            _edit("seasons/one/one/experiment.yaml", "height: 9 cm", "harvest: 9 g"),
            {"records one", "summaries", "summaries crop leaf", "for_outlook two x", "searched"},
        ),
        (_put("seasons/one/one/recap.md", "All went *well*.\n"), {"recap one", "searched"}),
        (
            _edit("seasons/one/two/experiment.yaml", "Second", "Other"),
            {"neighbours one", "summaries", "summaries crop leaf", "searched", "runs"},
        ),
        (
            lambda site: (site.experiment("one")).rename(site.experiment("three")),
            {*OTHERS} - {"text about", "has_feed", "texts"},
        ),
        (_edit("about.md", "As it was", "As it is"), {"text about", "texts"}),
        (
            lambda site: (site.root / "about.md").rename(site.root / "us.md"),
            {"text about", "texts", "names"},
        ),
    ],
    ids=["note", "height", "EC", "pick", "recap", "title of another", "id", "text", "name of a text"],
)
def test_what_other_pages_tell(tmp_path: Path, change: Callable[[Site], None], changed: set[str]) -> None:
    """What one page may ask of the others changes with the answer alone."""
    site = start(tmp_path)
    site.edit("seasons/one/two/experiment.yaml", "crop: tomato", "crop: leaf")
    found: list[dict[str, str]] = []
    for edit in (lambda _: None, change):
        edit(site)
        with built(site) as build:
            found.append({each: build.snapshot.digest(each) for each in OTHERS})
    before, after = found

    assert {each for each in OTHERS if before[each] != after[each]} == changed


def test_plain_answers_are_their_own_digests(tmp_path: Path) -> None:
    """An address, a title, yes or no; of what is not there, nothing."""
    site = start(tmp_path)
    with built(site) as build:
        digest = build.snapshot.digest
        assert [digest(f"address {name}") for name in ("one", "about.md", "none")] == [
            "experiments/one.html",
            "about.html",
            "",
        ]
        assert [digest(f"published {name}") for name in ("one", "none")] == ["True", "False"]
        assert [digest(f"title {name}") for name in ("two", "none")] == ["Second", ""]
        assert [digest(f"{part} none") for part in ("records", "recap")] == ["absent", "absent"]
        assert (digest("has_feed"), digest("raw_html")) == ("True", "False")


def test_a_trace_holds_while_every_input_is_what_it_was(tmp_path: Path) -> None:
    """One that differs is enough; an empty trace names nothing that could differ."""
    site = start(tmp_path)
    with built(site) as build:
        trace = {each: build.snapshot.digest(each) for each in ("site", "title one")}
        assert build.snapshot.holds(trace)
        assert build.snapshot.holds({})
        assert not build.snapshot.holds({**trace, "title one": "Another"})
        assert not build.snapshot.holds({**trace, "title none": "First"})


def _link(run: str, crop: str = "leaf", *, day: int) -> RunLink:
    return RunLink(run, run.title(), date(2026, 3, day), crop, "one", ("tray",), (), dated=True)


def _snapshot(memo: Memo, files: JournalFiles, outlooks: dict[str, str]) -> Snapshot:
    links = tuple(_link(run, day=day) for day, run in enumerate(outlooks, start=1))
    summaries = {run: f"[]\n\nearlier {run}\n{line}" for run, line in outlooks.items() if line}
    return Snapshot(Settings(files), memo, TODAY, {}, SiteMap(links), summaries)


def test_what_an_outlook_reads(tmp_path: Path) -> None:
    """Runs before it by the names of their logs, which copies share; its own copies and runs without a log are none."""
    files = journal_of(start(tmp_path))
    lines = {"a": "x AAA", "b": "own BBB", "c": "", "d": "x DDD", "e": "y EEE", "f": "own FFF"}
    with Memo(tmp_path / "memo") as memo:
        snapshot = _snapshot(memo, files, lines)
        parts = list(snapshot._outlook_parts("f", "own"))
        renamed = _snapshot(memo, files, lines | {"a": "z AAA", "d": "z DDD"})
        apart = _snapshot(memo, files, lines | {"a": "z AAA"})
        digests = [each.digest("for_outlook f own") for each in (snapshot, renamed, apart)]

    assert parts == [("log of a", "AAA"), ("log of a", "DDD"), ("log of e", "EEE")]
    assert digests[0] == digests[1] != digests[2]


def test_the_page_of_a_run_shows_the_last_three_before_it(tmp_path: Path) -> None:
    """One further back changes nothing of it; a summary that is missing counts."""
    files = journal_of(start(tmp_path))
    lines = dict.fromkeys("abcde", "x A")
    with Memo(tmp_path / "memo") as memo:
        first = _snapshot(memo, files, lines)
        digests = {
            run: replace(first, summaries={**first.summaries, run: f"[]\n\nanother {run}\n"}).digest(
                "nearest e"
            )
            for run in "abcde"
        }
        absent = replace(first, summaries={}).digest("nearest e")

    assert {run for run in digests if digests[run] != first.digest("nearest e")} == {"b", "c", "d"}
    assert absent != first.digest("nearest e")


def test_a_worker_is_told_what_it_cannot_read(tmp_path: Path) -> None:
    """It is sent everything but the files of runs, which come with each order, and says so where one is missing."""
    site = start(tmp_path)
    with built(site) as build:
        snapshot = build.snapshot
        _ = snapshot.settings.context
        worker = snapshot.for_worker()

        assert (worker.is_worker, worker.runs, snapshot.is_worker) == (True, {}, False)
        assert (worker.today, worker.encoding) == (snapshot.today, snapshot.encoding)
        assert (worker.site_map, worker.summaries) == (snapshot.site_map, snapshot.summaries)
        assert worker.settings.theme is snapshot.settings.theme is not None
        assert pickle.loads(pickle.dumps(worker.settings)).journal == snapshot.settings.journal  # noqa: S301 - our own
        assert worker.digest("site") == snapshot.digest("site")
        with pytest.raises(NotToldError, match="one"):
            worker.digest("records one")
        worker.runs["one"] = snapshot.runs["one"]
        assert worker.digest("records one") == snapshot.digest("records one")
        assert snapshot.digest("records none") == "absent"


def test_compiled_templates_are_kept_while_they_are_the_same_files(tmp_path: Path) -> None:
    """After an edit of another file too; a template that comes makes them be compiled again."""
    site = start(tmp_path)
    files = journal_of(site)
    first = Settings(files, theme_of(files)[0])
    kept = Settings(files, theme_of(files)[0], first)
    same = kept.context.environment is first.context.environment
    _put("look/templates/home.html", "Own")(site)
    later = Settings(files, theme_of(files)[0], kept)
    anew = later.context.environment is kept.context.environment

    assert (same, anew) == (True, False)
    assert [each.before for each in (kept, later)] == [None, None]  # not for ever
    assert set(later.templates) - set(kept.templates) == {str(site.root / "look/templates/home.html")}
    assert Settings(files).templates == ()


def test_templates_of_the_journal(tmp_path: Path) -> None:
    """Only its own pages and notes count, wherever they lie in their folders; without them no theme is needed."""
    site = start(tmp_path)
    (site.root / "look/notes/script.md").unlink()
    _put("look/templates/notes.txt", "x")(site)
    _put("look/notes/notes.txt", "x")(site)
    files = journal_of(site)
    none = (has_own_templates(files), Settings(files).has_own_templates, Settings(files).has_note_templates)
    unneeded = theme_where_needed(files)
    _put("look/templates/parts/own.html", "x")(site)
    _put("look/notes/script.md", "x")(site)
    some = (has_own_templates(files), Settings(files).has_own_templates, Settings(files).has_note_templates)
    needed, findings = theme_where_needed(files)

    assert (none, unneeded) == ((False, False, False), (None, ()))
    assert some == (True, True, True)
    assert (needed is not None, findings) == (True, ())


def test_a_theme_nobody_has_is_told(tmp_path: Path) -> None:
    """Where it is written, whether anything is drawn or not."""
    site = start(tmp_path)
    site.edit(JOURNAL, "title:", "theme: none\ntitle:")
    files, _ = read_journal(site.root)
    assert files is not None
    for find in (theme_of, theme_where_needed):
        theme, (finding,) = find(files)
        assert theme is None
        assert (finding.code, finding.source.file, finding.source.line) == ("unknown-theme", JOURNAL, 3)


def test_the_site_without_its_runs(tmp_path: Path) -> None:
    """What every page is given of the journal."""
    files = journal_of(start(tmp_path))
    site = Settings(files).site

    assert (site.journal, site.seasons, site.texts) == (files.journal, files.seasons, files.pages)
    assert site.products == files.library.products != ()
    assert (site.look, site.source.file) == (files.root / "look", JOURNAL)
    assert [page.name for page in site.texts] == ["about"]
    assert site.methods
