"""The steps that find what is wrong in texts and templates, and the checks of a whole journal."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.site.chart import NO_DRAWING
from sitegen.ingest import read_journal
from sitegen.memo import Memo
from sitegen.pipeline import validate
from sitegen.pipeline.checks import validation
from sitegen.pipeline.checks.whole_check import check_all, held_back, template_findings
from sitegen.pipeline.engine import page_checks, steps
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.engine.files import Digests, inventory
from sitegen.pipeline.engine.inputs import Inputs
from sitegen.pipeline.engine.snapshot import Settings, theme_of
from sitegen.pipeline.results import Checked
from tests.pipeline.bench import TODAY, Site, leaf

ENDED = "  - day: 30\n    end: {why: slow, plants: cleared}\n"


def start(folder: Path, **more: str) -> Site:
    """A published run, one with an error, a draft, one that is published later, one that cannot be read."""
    runs = {
        "broken": leaf("Broken").replace("9 cm", "9 parsecs"),
        "draft": leaf("Drafted", more="draft: true\n"),
        "later": leaf("Later", more="publish: 2026-06-01\n"),
        "open": leaf("Open"),
        "unread": "title: [",
    }
    return Site.of(folder, runs, **more)


@contextmanager
def built(site: Site) -> Iterator[Build]:
    """A build of the journal as it is now."""
    files, _ = read_journal(site.root)
    assert files is not None
    with site.own_cache(), Memo() as memo:
        digests = Digests(site.root, inventory(site.root), memo)
        yield Build(Settings(files, theme_of(files)[0]), digests, memo, TODAY, jobs=1)


def of_texts(findings: list[Finding]) -> list[tuple[str, str]]:
    """Codes and files of what was found in texts."""
    return [(each.code, each.source.file) for each in findings if each.source.file.endswith(".md")]


def links_to_all(site: Site, *runs: str) -> None:
    """Let recaps lead to every run."""
    text = " ".join(f"[It]({name})." for name in ("broken", "draft", "later", "open", "unread"))
    for run in runs:
        (site.experiment(run) / "recap.md").write_text(f"{text}\n", "utf-8")


def test_what_a_text_may_lead_to(tmp_path: Path) -> None:
    """To what is published, errors or not; what is held back may name what will be published with it.

    A text of a run with errors is looked at when it is mended.
    """
    site = start(tmp_path)
    links_to_all(site, "open", "draft", "later", "broken")
    (site.root / "about.md").write_text("# About\n\n[It](draft) and [it](broken).\n", "utf-8")
    with built(site) as build:
        check_all(build)
        found = [f"{f.source.file} {f.found}" for f in build.findings if f.code == "unknown-experiment"]
        published = [link.id for link in build.snapshot.site_map.links]

    assert sorted(found) == [
        "about.md draft",
        "seasons/one/draft/recap.md unread",
        "seasons/one/later/recap.md unread",
        *(f"seasons/one/open/recap.md {name}" for name in ("draft", "later", "unread")),
    ]
    assert published == ["open"]


def test_runs_that_have_no_page_yet(tmp_path: Path) -> None:
    """Drafts, and what is published later."""
    with built(start(tmp_path)) as build:
        build.check()

        assert held_back(build) == ["draft", "later"]


def test_a_run_without_a_recap_is_not_looked_at(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nor is a journal without templates of notes looked through for them."""
    site = start(tmp_path)
    links_to_all(site, "draft")
    asked: list[tuple[str, list[str]]] = []
    look_for = Build.look_for

    def noted(build: Build, step: str, names: list[str]) -> None:
        asked.append((step, list(names)))
        look_for(build, step, names)

    monkeypatch.setattr(Build, "look_for", noted)
    with built(site) as build:
        check_all(build)
    (site.root / "look" / "notes").mkdir(parents=True)
    (site.root / "look" / "notes" / "post.md").write_text("x\n", "utf-8")
    (site.experiment("draft") / "recap.md").unlink()
    with built(site) as build:
        check_all(build)

    assert asked == [
        *(("texts", []), ("texts", ["draft"])),
        *(("texts", []), ("notes", ["draft", "later", "open"])),
    ]


BAD = "{{ unheard_of }}"


@pytest.mark.parametrize("name", ["script", "description", "post", "follow-up", "answers", "gaps", "shots"])
def test_a_template_of_notes_is_filled(tmp_path: Path, name: str) -> None:
    """With the drafts of each sound run that has any of its kind; what is wrong is one finding."""
    site = start(tmp_path, **{f"look/notes/{name}.md": BAD})
    episodes = (
        "episodes: [{title: Begun, link: https://example.org/e1, published: 2026-03-12, until: day 5}]\n"
    )
    site.edit("seasons/one/open/experiment.yaml", "log:", f"{episodes}log:")
    with built(site) as build:
        check_all(build)
        found = {(each.code, each.source.file) for each in build.findings if "look" in each.source.file}

    assert found == {("bad-template", f"look/notes/{name}.md")}


def test_a_template_of_notes_may_use_chapters(tmp_path: Path) -> None:
    """Those of the last episode are there as they are in a draft."""
    site = start(tmp_path, **{"look/notes/description.md": "{{ title }} {{ facts.harvest.total }}\n"})
    with built(site) as build:
        check_all(build)

        assert [each for each in build.findings if "look" in each.source.file] == []


def test_templates_of_the_journal_are_filled(tmp_path: Path) -> None:
    """For every sound run, or for those that are named; index pages where all are asked for."""
    own = "{% extends 'base.html' %}{% block main %}{{ {'open': 1}[facts.id] }}{% endblock %}"
    site = start(tmp_path, **{"look/templates/experiment.html": own, "look/templates/home.html": BAD})
    said = []
    for only in (None, ["open"], ["draft"], []):
        with built(site) as build:
            build.check()
            said.append(sorted({each.source.file for each in template_findings(build, only)}))
            assert build.template_findings == ()

    both = ["look/templates/experiment.html", "look/templates/home.html"]
    assert said == [both, [], both[:1], []]


def test_a_journal_without_templates_fills_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The theme's own cannot fail."""
    monkeypatch.setattr(Build, "without_pictures", lambda _: pytest.fail("filled"))
    with built(start(tmp_path)) as build:
        build.check()

        assert template_findings(build) == ()


@pytest.mark.parametrize(
    ("recap", "raw", "codes"),
    [
        ("", False, []),
        (" \n", False, []),
        ("See [that](nowhere), {{ facts.nothing }}.\n", False, ["bad-template", "unknown-experiment"]),
        ("An <blink>old</blink> bench.\n", False, ["raw-html"]),
        ("An <blink>old</blink> bench.\n", True, ["html-removed"]),
    ],
)
def test_what_is_wrong_in_a_recap(tmp_path: Path, recap: str, codes: list[str], *, raw: bool) -> None:
    """Links, values and HTML, as the journal takes it; one that is empty has nothing wrong."""
    site = start(tmp_path)
    (site.experiment("open") / "recap.md").write_text(recap, "utf-8")
    if raw:
        site.edit("journal.yaml", "title:", "raw_html: true\ntitle:")
    with built(site) as build:
        build.check()
        found = page_checks.text_findings(Inputs(build.snapshot, "open"))
        unread = page_checks.text_findings(Inputs(build.snapshot, "unread"))

    assert ([each.code for each in found], unread) == (codes, ())


@pytest.mark.parametrize(("raw", "codes"), [(False, ["raw-html"]), (True, ["html-removed"])])
def test_what_is_wrong_in_a_page_of_the_authors(tmp_path: Path, codes: list[str], *, raw: bool) -> None:
    """HTML, as the journal takes it."""
    site = start(tmp_path, **{"about.md": "# About\n\nAn <blink>old</blink> bench.\n"})
    if raw:
        site.edit("journal.yaml", "title:", "raw_html: true\ntitle:")
    with built(site) as build:
        build.check()
        build.publish(())
        found = page_checks.text_findings(Inputs(build.snapshot, "page about"))

    assert [(each.code, each.source.file) for each in found] == [(code, "about.md") for code in codes]


def test_charts_without_a_drawing(tmp_path: Path) -> None:
    """Otherwise they are as they are drawn, in the language and the units of the journal."""
    site = start(tmp_path)
    more = "  - day: 12\n    height: 3 cm\n  - day: 16\n    height: 6 cm\n"
    site.edit("seasons/one/open/experiment.yaml", "  - day: 20", f"{more}  - day: 20")
    said = []
    for edit in ("title:", "language: de\nunits: us\ntitle:"):
        site.edit("journal.yaml", "title:", edit)
        with built(site) as build:
            build.check()
            inputs = Inputs(build.snapshot, "open")
            with inputs.speaking():
                (undrawn,) = page_checks.undrawn_charts(inputs)
                (drawn,) = steps.charts(inputs)
            said.append(undrawn)
            bare = replace(drawn, wide=NO_DRAWING, narrow=NO_DRAWING)
            assert (undrawn, drawn.wide != NO_DRAWING) == (bare, True)

    assert [each.name for each in said] == ["height", "height"]
    assert said[0].title != said[1].title


def test_what_validating_says(tmp_path: Path) -> None:
    """All findings once, in the order of files; how many runs and entries were looked at."""
    site = start(tmp_path)
    site.edit("journal.yaml", "title:", "tilte: x\ntitle:")
    site.edit("seasons/one/open/experiment.yaml", "day: 20", "day: 40")
    with site.own_cache():
        done = validate(site.root, TODAY)

    assert [(each.code, each.source.file) for each in done.findings] == [
        ("unknown-key", "journal.yaml"),
        ("unknown-unit", "seasons/one/broken/experiment.yaml"),
        ("long-gap", "seasons/one/open/experiment.yaml"),
        *((each.code, "seasons/one/unread/experiment.yaml") for each in done.findings[3:]),
    ]
    assert (done.experiments, done.entries) == (5, 8)


def test_a_journal_that_cannot_be_validated(tmp_path: Path) -> None:
    """Nothing was looked at but its settings; a theme nobody has hides nothing else."""
    site = start(tmp_path)
    site.edit("journal.yaml", "title:", "theme: none\ntitle:")
    with site.own_cache():
        unthemed = validate(site.root, TODAY)
        (site.root / "journal.yaml").write_text("title: [", "utf-8")
        unread = validate(site.root, TODAY)

    assert [each.code for each in unthemed.findings[:2]] == ["unknown-theme", "unknown-unit"]
    assert unthemed.experiments == 5
    assert unread == Checked(unread.findings)
    assert [each.source.file for each in unread.findings] == ["journal.yaml"]


@pytest.mark.parametrize("saved", [False, True])
def test_an_answer_is_remembered_of_files_that_stayed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, saved: bool
) -> None:
    """With the days on which it holds; not where one was saved while it was read."""
    site = start(tmp_path)
    remembered: list[object] = []
    monkeypatch.setattr(validation, "remember_check", lambda *given: remembered.append(given[1:]))
    check = validation.check_all

    def checked(build: Build) -> None:
        check(build)
        if saved:
            (site.root / "about.md").write_text("# About\n", "utf-8")

    monkeypatch.setattr(validation, "check_all", checked)
    with site.own_cache():
        done = validate(site.root, TODAY)

    assert len(remembered) == (not saved)
    for found, validity in remembered:  # type: ignore[misc]
        assert (found, validity.until) == (done, date(2026, 5, 20))
