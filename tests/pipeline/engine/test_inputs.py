"""What a step reads: every question is answered from the journal, and recorded with the digest of its answer."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from sitegen.core.language.wording import Wording
from sitegen.core.site.site_map import Neighbour
from sitegen.ingest import read_journal
from sitegen.memo import Memo
from sitegen.pipeline.engine import steps
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.engine.files import Digests, inventory
from sitegen.pipeline.engine.inputs import Inputs, RunMemory
from sitegen.pipeline.engine.snapshot import Settings, theme_of
from tests.pipeline.bench import TODAY, Site, leaf

SHARES = "shares: {{with: {}}}\nlight: {{lamp: bar, hours: 14 h}}\n"


@pytest.fixture
def build(tmp_path: Path) -> Iterator[Build]:
    """Two runs of one crop that share a tub, one that cannot be read; a recap, a text, prices."""
    site = Site.of(
        tmp_path,
        {
            "one": leaf("First", start="2026-02-01", more=SHARES.format("two")),
            "two": leaf("Second", start="2026-03-01", more=SHARES.format("one")),
            "unread": "title: [",
        },
        **{"about.md": "# About\n", "seasons/one/one/recap.md": "All went well.\n"},
    )
    site.edit("journal.yaml", "title:", "prices: {currency: EUR}\nraw_html: true\nunits: us\ntitle:")
    files, _ = read_journal(site.root)
    assert files is not None
    with site.own_cache(), Memo() as memo:
        digests = Digests(site.root, inventory(site.root), memo)
        made = Build(Settings(files, theme_of(files)[0]), digests, memo, TODAY, jobs=1)
        made.check()
        made.publish([check.link for check in made.checks.values() if check.sound and check.link is not None])
        made.summarize()
        yield made


def test_what_is_asked_of_the_run_itself(build: Build) -> None:
    """Its records, its recap, its folder; each is recorded."""
    inputs = Inputs(build.snapshot, "one")
    run, found = inputs.records()
    recap, unread = inputs.recap()

    assert run is not None
    assert (run.setup.id, found, recap, unread) == ("one", (), "All went well.\n", ())
    assert (inputs.name, inputs.folder.id, inputs.today) == ("one", "one", TODAY)
    assert (inputs.store, inputs.encoding) == (build.snapshot.store, "now")
    assert list(inputs.trace) == ["library", "records one", "recap one"]
    assert build.snapshot.holds(inputs.trace)
    assert Inputs(build.snapshot, "unread").records()[0] is None


def test_what_is_asked_of_the_journal(build: Build) -> None:
    """Prices, words, units, whether texts hold HTML, ids: each is a dependency of its own."""
    journal = build.snapshot.settings.journal_files
    asked = {
        "prices": lambda inputs: inputs.prices == journal.journal.prices,
        "wording": lambda inputs: inputs.wording == Wording("us", "en"),
        "raw_html": lambda inputs: inputs.takes_html is True,
        "note_templates": lambda inputs: inputs.note_templates == journal.root,
        "run_ids": lambda inputs: inputs.run_ids() == ("one", "two", "unread"),
    }
    for kind, right in asked.items():
        inputs = Inputs(build.snapshot, "one")
        assert right(inputs), kind
        assert list(inputs.trace) == [kind]


def test_what_is_asked_of_other_runs(build: Build) -> None:
    """Their records; None of one that is not there, or cannot be read."""
    inputs = Inputs(build.snapshot, "one")
    other = inputs.records_of("two")

    assert other is not None
    assert other.setup.id == "two"
    assert [inputs.records_of(name) for name in ("none", "unread")] == [None, None]
    assert set(inputs.trace) == {"library", "run_ids", *(f"records {n}" for n in ("two", "none", "unread"))}


def test_what_is_asked_of_other_pages(build: Build) -> None:
    """Whatever the map of the site answers, and summaries of runs; a question is recorded with its names."""
    inputs = Inputs(build.snapshot, "two")
    others = inputs.others

    assert others.neighbours("two").earlier == Neighbour("one", "First")
    assert [each.id for each in others.summaries()] == ["one", "two"]
    assert [each.id for each in others.summaries("crop", "leaf")] == ["one", "two"]
    assert others.summaries("crop", "tomato") == []
    assert len(others.nearest("two")) == 1
    assert len(others.nearest("one")) == 0
    assert len(others.for_outlook("two", "x")) == 1
    assert len(others.searched()) == 2
    assert (others.address("one"), others.published("none")) == ("experiments/one.html", False)
    assert others.text("about").markdown == "# About\n"
    assert list(inputs.trace) == [
        *("neighbours two", "summaries", "summaries crop leaf", "summaries crop tomato", "nearest two"),
        *("nearest one", "for_outlook two x", "searched", "address one", "published none", "text about"),
    ]
    with pytest.raises(AttributeError):
        others.weather()  # type: ignore[attr-defined]


def test_a_part_is_made_again_where_an_input_has_changed(build: Build) -> None:
    """While it holds it is kept, and what it was made from is what the step was made from."""
    made: list[str] = []

    def title(inputs: Inputs) -> str:
        made.append(inputs.name)
        return inputs.others.title("one")

    memory = RunMemory()
    first, second = (Inputs(build.snapshot, "two", memory) for _ in range(2))
    said = [first.part(title), second.part(title), second.part(title)]
    links = build.snapshot.site_map.links
    renamed = replace(build.snapshot.site_map, links=(replace(links[0], title="Renamed"), *links[1:]))
    third = Inputs(replace(build.snapshot, site_map=renamed), "two", memory)
    said.append(third.part(title))

    assert (said, made) == (["First", "First", "First", "Renamed"], ["two", "two"])
    assert list(first.trace) == list(second.trace) == list(third.trace) == ["title one"]
    assert first.trace == second.trace != third.trace
    assert Inputs(build.snapshot, "two").part(title) == "First"


def test_a_shared_tub_is_read_from_the_other_log(build: Build) -> None:
    """Of every other run that shares one, by id."""
    inputs = Inputs(build.snapshot, "one")
    others = steps.other_runs(inputs)

    assert {name: run.setup.id for name, run in others.items() if run is not None} == {"two": "two"}
    assert "records two" in inputs.trace
    assert steps.records_with_others(Inputs(build.snapshot, "one")).setup.id == "one"


def test_words_are_those_of_the_journal_for_a_while(build: Build) -> None:
    """Which is recorded."""
    inputs = Inputs(build.snapshot, "one")
    with inputs.speaking():
        assert list(inputs.trace) == ["wording"]


def test_kept_facts_have_no_samples(build: Build) -> None:
    """All else is as it was measured, beside the run as others are compared with it."""
    inputs = Inputs(build.snapshot, "one")
    kept, whole = steps.kept_facts(inputs), inputs.part(steps.facts)

    assert kept.facts == whole
    assert kept.arms.run == "one"


def test_findings_of_a_run_that_cannot_be_read(build: Build) -> None:
    """Those of reading it, and of its recap, if it has one; it has no link and no log."""
    check = steps.check(Inputs(build.snapshot, "unread"))

    assert check == steps.Check(check.findings)
    assert check.findings == steps.records_findings(Inputs(build.snapshot, "unread")) != ()
    assert steps.recap_findings(Inputs(build.snapshot, "unread")) == ()


def test_what_a_check_says_of_a_run(build: Build) -> None:
    """How many entries, the place and the digest of its log, what other pages need to name it."""
    first, second = (steps.check(Inputs(build.snapshot, run)) for run in ("one", "two"))

    assert (first.entries, first.draft, first.publish) == (2, False, None)
    assert first.link is not None
    assert (first.link.id, first.link.title) == ("one", "First")
    assert first.log == second.log != ""
    assert first.log_at is not None
    assert (first.log_at.file, first.log_at.line) == ("seasons/one/one/experiment.yaml", 10)
    assert first.validity.contains(TODAY)
