"""The build engine: what is made, what is taken from the store, and what is said of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.store import StoredResult
from sitegen.core.values.day import DateRange
from sitegen.ingest import read_journal
from sitegen.memo import Memo
from sitegen.pipeline.engine import build as module
from sitegen.pipeline.engine import steps
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.engine.files import Digests, inventory
from sitegen.pipeline.engine.inputs import Inputs, RunMemory
from sitegen.pipeline.engine.processes import Processes
from sitegen.pipeline.engine.run_builder import RunBuilder
from sitegen.pipeline.engine.snapshot import Settings, theme_of
from sitegen.pipeline.engine.steps import Check
from sitegen.pipeline.engine.stored_results import Made, PageFiles, Results
from tests.pipeline.bench import TODAY, Site, leaf

ONE = "seasons/one/one/experiment.yaml"


def start(folder: Path) -> Site:
    """Two runs of one crop, the first with an entry that is a warning; a text."""
    runs = {
        "one": leaf("First", start="2026-02-01").replace("day: 20", "day: 40"),
        "two": leaf("Second", start="2026-03-01"),
    }
    return Site.of(folder, runs, **{"about.md": "# About\n\nSee [one](one).\n"})


@contextmanager
def built(site: Site, today: date = TODAY, before: Build | None = None) -> Iterator[Build]:
    """A build of the journal as it is now, nothing of it made yet."""
    files, _ = read_journal(site.root)
    assert files is not None
    with site.own_cache(), Memo() as memo:
        digests = Digests(site.root, inventory(site.root), memo)
        yield Build(Settings(files, theme_of(files)[0]), digests, memo, today, jobs=1, before=before)


def publish_all(build: Build) -> None:
    """Give each sound run a page."""
    build.publish([check.link for check in build.checks.values() if check.sound and check.link is not None])


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The runs whose records are read, in order."""
    found: list[str] = []
    original = module.steps.Inputs.records

    def records(inputs: Inputs) -> object:
        found.append(inputs.name)
        return original(inputs)

    monkeypatch.setattr(Inputs, "records", records)
    return found


def test_a_run_is_read_once_for_all_of_its_steps(tmp_path: Path, read: list[str]) -> None:
    """Where there are few, what one step has read is kept for the next."""
    site = start(tmp_path)
    (site.experiment("two") / "recap.md").write_text("It [did](one).\n", "utf-8")
    site.write()

    assert sorted(read) == ["one", "two"]


def test_checks_are_taken_from_the_store(tmp_path: Path, read: list[str]) -> None:
    """By another build of the same files; of a run that has changed, it is made again."""
    site = start(tmp_path)
    found: list[dict[str, Check]] = []
    for old, new in (("as it was", "as it was"), ("as it was", "as it was"), ("as it was", "as it is")):
        site.edit("seasons/one/two/experiment.yaml", old, new)
        with built(site) as build:
            build.check()
            found.append(build.checks)
            found[-1] = {run: replace(check, log="", log_at=None) for run, check in found[-1].items()}

    assert read == ["one", "two", "two"]
    assert found[0] == found[1] == found[2]
    assert list(found[0]) == ["one", "two"]


def test_checks_of_some_runs(tmp_path: Path, read: list[str]) -> None:
    """Those that are named, in the order of the journal."""
    with built(start(tmp_path)) as build:
        build.check(only=["two"])
        assert (list(build.checks), read) == (["two"], ["two"])
        build.check(only=["two", "one"])
        assert (list(build.checks), read) == (["one", "two"], ["two", "one"])


def test_a_check_that_does_not_hold_today_is_made_again(tmp_path: Path, read: list[str]) -> None:
    """Also where it is in memory, or in the store."""
    site = start(tmp_path)
    with built(site) as build:
        build.check()
        read.clear()
        with built(site, date(2026, 12, 1), before=build) as later:
            later.check()
            assert {each.code for each in later.findings} == {"long-gap", "no-end"}
            assert read == ["one", "two"]


def test_what_is_in_memory_is_not_asked_of_the_store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Only for runs that have changed is the store asked."""
    site = start(tmp_path)
    asked: list[tuple[str, list[str]]] = []
    original = Results.get

    def get(results: Results, step: str, names: Sequence[str]) -> dict[str, StoredResult]:
        asked.append((step, list(names)))
        return original(results, step, names)

    monkeypatch.setattr(Results, "get", get)
    with built(site) as build:
        build.check()
        site.edit(ONE, "as it was", "as it is")
        with built(site, before=build) as later:
            later.check()

    assert asked == [("check", ["one", "two"]), ("check", ["one"])]


def test_what_is_found(tmp_path: Path) -> None:
    """Of runs, of texts, of copies of logs; the place of a photo is told apart from them."""
    site = start(tmp_path)
    site.edit("about.md", "(one)", "(none)")
    with built(site) as build:
        build.check()
        publish_all(build)
        build.look_for("texts", ["page about"])
        place = Finding("photo-location", Source("a.jpg"), "a place")
        one = build._checks["one"]
        copied = replace(one.value, findings=(*one.value.findings, place), log="x", entries=9)
        build._checks = {run: Made(copied, one.trace) for run in ("one", "two")}

        assert [each.code for each in build.findings] == [
            *("long-gap", "long-gap"),
            "unknown-experiment",
            "copied-log",
        ]
        assert build.located == [place, place]
        assert build.template_findings == ()


def test_findings_of_texts_are_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While what they lead to is the same; templates are apart from them."""
    site = start(tmp_path)
    looked: list[str] = []
    original = module.page_checks.STEPS["texts"]

    def noted(inputs: Inputs) -> tuple[Finding, ...]:
        looked.append(inputs.name)
        return original(inputs)

    monkeypatch.setattr(module.page_checks, "STEPS", {**module.page_checks.STEPS, "texts": noted})
    site.edit("about.md", "(one)", "(none)")
    codes = []
    for _ in range(2):
        with built(site) as build:
            build.check()
            publish_all(build)
            build.look_for("texts", ["page about"])
            codes.append([each.code for each in build.findings if each.source.file == "about.md"])

    assert looked == ["page about"]
    assert codes == [["unknown-experiment"]] * 2


def test_templates_of_index_pages_are_looked_at_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of those that are pages; what was found is kept, and is no finding of another step."""
    site = start(tmp_path)
    (site.root / "look" / "templates").mkdir(parents=True)
    (site.root / "look" / "templates" / "home.html").write_text("{{ unheard_of }}", "utf-8")
    made: list[str] = []
    original = steps.rendered_index

    def noted(page, inputs):  # type: ignore[no-untyped-def]
        made.append(page.address)
        return original(page, inputs)

    monkeypatch.setattr(steps, "rendered_index", noted)
    found: list[tuple[Finding, ...]] = []
    for _ in range(2):
        with built(site) as build:
            build.check()
            bare = build.without_pictures()
            publish_all(bare)
            bare.summarize()
            bare.look_at_index()
            found.append(bare.template_findings)
            wanted = {page.address for page in bare.index() if page.address.endswith(".html")}

    assert [each.code for each in found[0]] == ["bad-template"]
    assert found[0] == found[1]
    assert sorted(made) == sorted(wanted)
    assert "index.html" in wanted


def test_a_build_without_pictures_is_of_the_same_moment(tmp_path: Path) -> None:
    """It knows the checks, and encodes nothing."""
    with built(start(tmp_path)) as build:
        build.check()
        bare = build.without_pictures()

        assert (bare.checks, bare.snapshot.encoding) == (build.checks, "never")
        assert (bare.snapshot.runs, bare.snapshot.today) == (build.snapshot.runs, build.snapshot.today)
        assert (bare._jobs, bare.snapshot.settings) == (1, build.snapshot.settings)


def test_the_days_on_which_a_build_stays_the_same(tmp_path: Path) -> None:
    """From the last change of any run's findings or of its being published to the next."""
    with built(start(tmp_path)) as build:
        assert build.validity == DateRange()
        checks = {
            "a": Check((), DateRange(date(2026, 3, 1), date(2026, 6, 1))),
            "b": Check((), DateRange(date(2026, 2, 1), date(2026, 5, 20))),
            "c": Check((), publish=date(2026, 4, 1)),
            "d": Check((), publish=date(2026, 5, 11)),
        }
        build._checks = {run: Made(check, {}) for run, check in checks.items()}

        assert build.validity == DateRange(date(2026, 4, 1), date(2026, 5, 10))


def test_facts_are_measured_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The next build takes them, and the arms of them, from the store."""
    site = start(tmp_path)
    measured: list[str] = []
    original = steps.kept_facts

    def noted(inputs: Inputs) -> steps.KeptFacts:
        measured.append(inputs.name)
        return original(inputs)

    monkeypatch.setattr(steps, "kept_facts", noted)
    with built(site) as build:
        arms = build.arms("one")
        facts = build.facts("one")
    with built(site) as again:
        assert (again.facts("one"), again.arms("one")) == (facts, arms)

    assert measured == ["one"]
    assert (facts.arms, facts.facts.id) == (arms, "one")


@pytest.mark.parametrize("value", [{}, {"trace": {}}, {"trace": {}, "value": 7}, {"trace": 7, "value": []}])
def test_a_damaged_row_counts_as_absent(tmp_path: Path, value: dict[str, object]) -> None:
    """Whatever is in it, the step is made."""
    with built(start(tmp_path)) as build:
        stored = StoredResult(value)
        decode: Callable[[list[int]], int] = len

        assert build._stored(decode, stored) is None
        assert build._stored(decode, None) is None
        assert build._stored(decode, StoredResult({"trace": {}, "value": [1]})) == Made(1, {})
        assert build._stored(decode, StoredResult({"trace": {"title one": "x"}, "value": [1]})) is None


def test_what_was_made_while_a_file_was_saved_is_not_stored(tmp_path: Path) -> None:
    """It is used, but its trace would vouch for other content; so of a run that it reads beside its own."""
    site = start(tmp_path)
    with built(site) as build:
        builder = RunBuilder(build.snapshot, build.results)
        kept = []
        for edited in ((), ("two",), ("one",)):
            for run in edited:
                site.edit(f"seasons/one/{run}/experiment.yaml", "as it was", "as it is")
            inputs = Inputs(build.snapshot, "one")
            inputs._read("records", "one")
            name = "-".join(edited) or "none"
            made = builder._made("summary", name if edited == () else "one", inputs, "x", name)
            assert made == Made("x", inputs.trace)
            found = build.results.get("summary", ["none", "one"])
            kept.append({run: row.value["value"] for run, row in found.items()})
        beside = Inputs(build.snapshot, "none")
        beside._read("records", "two")
        builder._made("summary", "last", beside, "x", "x")

        assert kept == [{"none": "none"}, {"none": "none", "one": "two"}, {"none": "none", "one": "two"}]
        assert build.results.get("summary", ["last"]) == {}


def test_results_of_steps_are_apart(tmp_path: Path) -> None:
    """By step, run, and journal; summaries made before photos are encoded are another step's."""
    site = start(tmp_path)
    with built(site) as build:
        for step in ("check", "summary", "run", "index", "facts", "texts", "templates", "notes"):
            build.results.put(step, "one", {"a": "b"}, step)
        found = {
            step: build.results.get(step, ["one", "two"])
            for step in ("check", "summary", "run", "index", "facts", "texts", "templates", "notes")
        }
        later = Results(replace(build.snapshot, encoding="later"))

        assert {step: {run: row.value for run, row in rows.items()} for step, rows in found.items()} == {
            step: {"one": {"trace": {"a": "b"}, "value": step}} for step in found
        }
        assert (later.get("summary", ["one"]), list(later.get("run", ["one"]))) == ({}, ["one"])


def test_page_files_are_stored_without_what_waits() -> None:
    """Addresses with their digests, findings and counts come back."""
    finding = Finding("bad-template", Source("a.html", 3), "odd", "mend it", "x")
    files = PageFiles((("a.html", ("0f", 7)), ("b.html", ("1f", 9))), (finding,), 2, 3)

    assert (
        PageFiles.decoded([[["a.html", ["0f", 7]], ["b.html", ["1f", 9]]], files.encoded()[1], 2, 3]) == files
    )  # type: ignore[index]
    assert files.encoded()[0] == files.files  # type: ignore[index]
    assert PageFiles.decoded([[], [], 0, 0]) == PageFiles(())


def test_a_summary_is_renewed_where_it_is_out_of_date(tmp_path: Path) -> None:
    """Asked for one run, it is made where there is none, or an old one."""
    site = start(tmp_path)
    with built(site) as build:
        build.check()
        publish_all(build)
        before = build.summarized("one")
        build.summarize_run("one", RunMemory())
        first = build._summaries["one"]
        build.summarize_run("one", RunMemory())

        assert (before, build.summarized("one"), build.summarized("two")) == (False, True, False)
        assert build._summaries["one"] is first
        build._summaries["one"] = Made("old", {"title one": "x"})
        build.summarize_run("one", RunMemory())
        assert build._summaries["one"] == first


def test_runs_are_summarized_that_have_a_page(tmp_path: Path) -> None:
    """All of them, or those that are named; pages read them then."""
    with built(start(tmp_path)) as build:
        build.check()
        publish_all(build)
        build.summarize(only=["two", "none"])
        some = set(build.snapshot.summaries)
        build.summarize()

        assert (some, set(build.snapshot.summaries)) == ({"two"}, {"one", "two"})
        link = build.checks["two"].link
        assert link is not None
        build.publish([link])
        assert set(build.snapshot.summaries) == {"two"}
        assert [each.id for each in build.snapshot.site_map.links] == ["two"]


def test_a_summary_that_is_out_of_date_stands_for_nothing(tmp_path: Path) -> None:
    """Of a sound run it goes; one with errors is shown as it last was, and one that is gone is not."""
    with built(start(tmp_path)) as build:
        build.check()
        old = Made("old", {"title one": "x"})
        build._summaries = {"one": old, "two": old, "gone": Made("gone", {})}
        broken = replace(build._checks["two"].value, link=None)
        build._checks["two"] = Made(broken, {})
        build.publish(())

        assert build._summaries == {"two": old}


def test_the_map_of_the_site_is_kept_while_it_is_the_same(tmp_path: Path) -> None:
    """With its tables; texts may name runs that have no page."""
    site = start(tmp_path)
    with built(site) as build:
        build.check()
        publish_all(build)
        site.edit(ONE, "as it was", "as it is")
        with built(site, before=build) as later:
            later.check()
            publish_all(later)
            same = later.snapshot.site_map
            link = later.checks["two"].link
            assert link is not None
            later.publish([link], [build.snapshot.site_map.links[0]])

            assert same is build.snapshot.site_map
            assert later.snapshot.site_map.published("one") is False
            assert later.snapshot.site_map.address("one") == "experiments/one.html"


def test_only_runs_that_may_have_changed_are_looked_at(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After an edit of one, and where it is not known which, at all."""
    site = start(tmp_path)
    looked: list[str] = []
    original = Digests.of_run
    monkeypatch.setattr(Digests, "of_run", lambda own, path: looked.append(path.name) or original(own, path))
    with built(site) as build, site.own_cache(), Memo() as memo:
        settings, digests = build.snapshot.settings, build._digests
        seen = []
        for before, changed in ((build, {"two"}), (build, set[str]()), (build, None), (None, {"two"})):
            looked.clear()
            Build(settings, digests, memo, TODAY, before=before, changed=changed)
            seen.append(list(looked))

    assert seen == [["two"], [], ["one", "two"], ["one", "two"]]


def test_processes_are_as_many_as_cores(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Unless it is said how many."""
    monkeypatch.setattr(module, "cores", lambda: 7)
    with built(start(tmp_path)) as build:
        settings, digests, store = build.snapshot.settings, build._digests, build.snapshot.store

        assert [Build(settings, digests, store, TODAY, jobs=jobs)._jobs for jobs in (0, 1, 3)] == [7, 1, 3]
        assert build.snapshot.encoding == "now"


@pytest.mark.parametrize(
    ("jobs", "count", "step", "spread"),
    [
        *((1, 60, "check", False), (2, 49, "check", False), (2, 50, "check", True), (2, 49, "texts", False)),
        *((2, 5, "summary", False), (2, 6, "summary", True), (1, 9, "summary", False)),
    ],
)
def test_few_runs_are_made_here(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, jobs: int, count: int, step: str, *, spread: bool
) -> None:
    """Many are handed out, several checks at a time and pages one by one; what another process cannot is made here."""
    handed: list[tuple[int, int, int]] = []

    class Handed(Processes):
        def start(self, snapshot: Any, number: int) -> None:
            assert snapshot is build.snapshot
            handed.append((self.most, number, 0))

        def each(self, snapshot: Any, step: str, names: Iterable[str], at_once: int) -> Any:
            assert (snapshot, step) == (build.snapshot, wanted)
            handed.append((0, 0, at_once))
            return ((run, None if run == "0" else f"there {run}") for run in reversed([*names]))

    wanted = step
    monkeypatch.setattr(module, "Processes", Handed)
    monkeypatch.setattr(module, "make", lambda _builder, step, run, *_: f"here {step} {run}")
    names = list(map(str, range(count)))
    with built(start(tmp_path)) as build:
        build._jobs = jobs
        made = build._each(step, names)

    assert list(made) == names
    assert made["0"] == f"here {step} 0"
    assert made["1"] == ("there 1" if spread else f"here {step} 1")
    alone, at_once = (50, 8) if step == "check" else (6, 1)
    assert handed == ([(jobs, 1 + count // alone, 0), (0, 0, at_once)] if spread else [])


@pytest.mark.parametrize(("count", "ordered"), [(5, []), (6, ["check", "texts"])])
def test_processes_that_render_later_check_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, count: int, ordered: list[str]
) -> None:
    """From six runs on: they have read the runs then, and are not started for each kind of step."""
    told: list[str] = []

    class Told(Processes):
        def start(self, snapshot: Any, number: int) -> None:
            """Nothing is started."""

        def each(self, snapshot: Any, step: str, names: Iterable[str], at_once: int) -> Any:
            del snapshot, at_once
            told.append(step)
            return ((run, f"there {run}") for run in names)

    monkeypatch.setattr(module, "make", lambda _builder, step, run, *_: f"here {step} {run}")
    names = list(map(str, range(count)))
    with built(start(tmp_path)) as build:
        build._jobs, build._processes = 2, Told(2)
        made = [build._each(step, names) for step in ("check", "texts")]

    assert told == ordered
    assert {each["0"].split()[0] for each in made} == {"there" if ordered else "here"}
