"""Facts for the command line: which experiments have any, and in which order."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

from sitegen.core.facts.across import MORE_IS_BETTER, ArmFigures, ArmSummary, RunArms
from sitegen.measure import run_arms
from sitegen.pipeline.facts import FoundArms, arms_of_runs, facts_of, facts_of_package
from tests.pipeline.bench import TODAY, Site, leaf

SOUND = {
    "one": leaf("First"),
    "two": leaf("Second", more="draft: true\n"),
    "three": leaf("Third", more="publish: 2026-09-01\n"),
}


def _broken(site: Site, name: str) -> None:
    path = site.experiment(name) / "experiment.yaml"
    path.write_text(path.read_text("utf-8").replace("9 cm", "9 parsecs"), "utf-8")


def test_every_sound_experiment_has_facts(tmp_path: Path) -> None:
    """Without names all are measured, drafts and those held back too, in the order of the journal."""
    site = Site.of(tmp_path, SOUND)
    journal_files, facts, findings = facts_of(site.root, (), TODAY)

    assert journal_files is not None
    assert [each.run.setup.id for each in facts] == [folder.id for folder in journal_files.folders]
    assert {each.run.setup.id for each in facts} == {"one", "two", "three"}
    assert findings == ()


def test_only_those_named_are_judged(tmp_path: Path) -> None:
    """An error in another experiment is not told, and the journal's files are all there."""
    site = Site.of(tmp_path, SOUND)
    _broken(site, "one")
    journal_files, facts, findings = facts_of(site.root, ["two"], TODAY)

    assert journal_files is not None
    assert len(journal_files.folders) == 3
    assert ([each.run.setup.id for each in facts], findings) == (["two"], ())


def test_an_experiment_with_errors_has_findings_only(tmp_path: Path) -> None:
    """The others are measured all the same."""
    site = Site.of(tmp_path, SOUND)
    _broken(site, "one")
    _, facts, findings = facts_of(site.root, (), TODAY)

    assert {each.run.setup.id for each in facts} == {"two", "three"}
    assert [(each.code, each.source.file) for each in findings] == [
        ("unknown-unit", "seasons/one/one/experiment.yaml")
    ]


def test_findings_of_the_journal_and_of_its_experiments_are_told_together(tmp_path: Path) -> None:
    """A warning about a setting and one about a log are both there, sorted by file; both leave the facts."""
    site = Site.of(tmp_path, {"one": leaf("First").replace("day: 20", "day: 40")}, **{"crops.yml": "{}\n"})
    settings = site.root / "journal.yaml"
    settings.write_text(settings.read_text("utf-8") + "tilte: Bench\n", "utf-8")
    _, _, findings = facts_of(site.root, (), TODAY)

    files = [each.source.file for each in findings]
    assert files == sorted(files)
    assert {"journal.yaml", "seasons/one/one/experiment.yaml"} <= set(files)


def test_a_journal_that_cannot_be_read_has_no_facts(tmp_path: Path) -> None:
    """Its findings say why."""
    site = Site.of(tmp_path, SOUND)
    (site.root / "journal.yaml").write_text("title: [", "utf-8")
    journal_files, facts, findings = facts_of(site.root, (), TODAY)

    assert (journal_files, facts) == (None, ())
    assert [each.source.file for each in findings] == ["journal.yaml"]


def test_facts_of_a_package_are_those_of_its_experiment(tmp_path: Path) -> None:
    """What was written as a Data Package is measured as the journal is."""
    site = Site.of(tmp_path, {"one": leaf("First")})
    site.write()
    (there,) = facts_of(site.root, ["one"], TODAY)[1]
    journal, facts, findings = facts_of_package(site.output / "data" / "one" / "datapackage.json")

    assert journal is not None
    assert facts is not None
    assert [each for each in findings if each.is_error] == []
    assert facts.growth.heights == there.growth.heights != ()
    assert (facts.run.setup.id, facts.run.setup.title) == ("one", "First")


def test_a_package_that_is_none_has_findings_only(tmp_path: Path) -> None:
    """A file that holds something else gives no facts."""
    path = tmp_path / "datapackage.json"
    path.write_text("[]", "utf-8")
    journal, facts, findings = facts_of_package(path)

    assert (journal, facts) == (None, None)
    assert [each.is_error for each in findings] == [True]


def test_the_day_decides_what_is_found(tmp_path: Path) -> None:
    """A log that is silent for long is warned about from the day on which it is, stored checks or not."""
    site = Site.of(tmp_path, {"one": leaf("First")})
    found = [facts_of(site.root, (), day)[2] for day in (TODAY, date(2026, 12, 1), TODAY)]

    assert [[each.code for each in findings] for findings in found] == [[], ["no-end"], []]


def _compared(run: RunArms) -> RunArms:
    """A run with the values that comparisons take, and without the rest."""

    def bare(arm: ArmSummary) -> ArmSummary:
        values = {name: replace(getattr(arm.figures, name), rows=(), remarks=()) for name in MORE_IS_BETTER}
        return replace(arm, figures=ArmFigures(**values), yields=(), picked=(), taste="")

    expected = replace(run.expected, rows=(), remarks=())
    return replace(run, arms=tuple(bare(arm) for arm in run.arms), expected=expected)


def test_runs_are_compared_from_kept_summaries(tmp_path: Path) -> None:
    """The arms of a kept summary are those of the facts, but for what pages alone show."""
    site = Site.of(tmp_path, SOUND)
    _, facts, _ = facts_of(site.root, (), TODAY)
    wanted = {each.id: _compared(run_arms(each)) for each in facts}

    found = arms_of_runs(site.root, (), "", TODAY)

    assert {run.run: run for run in found.arms} == wanted
    assert [run.run for run in arms_of_runs(site.root, ["two"], "", TODAY).arms] == ["two"]
    assert arms_of_runs(site.root, (), "no-such-crop", TODAY).arms == ()


def test_names_of_what_is_compared(tmp_path: Path) -> None:
    """Crops of the journal, varieties of those that were grown, systems."""
    found = arms_of_runs(Site.of(tmp_path, SOUND).root, (), "leaf", TODAY)

    assert found.crops == ["orange", "tomato", "leaf"]
    assert found.names == {"first": "First", "second": "Second", "tray": "Seed tray"}
    assert [run.run for run in found.arms] == ["one", "three", "two"]
    assert FoundArms(None).crops == []
    assert FoundArms(None).names == {}


def test_what_keeps_runs_from_being_compared(tmp_path: Path) -> None:
    """Errors of a run leave it out, those of the journal leave nothing; warnings of both are told."""
    site = Site.of(tmp_path, SOUND)
    _broken(site, "one")
    site.edit("seasons/one/two/experiment.yaml", "day: 20", "day: 40")
    site.edit("journal.yaml", "title:", "tilte: x\ntitle:")
    found = arms_of_runs(site.root, (), "", TODAY)
    (site.root / "journal.yaml").write_text("title: [", "utf-8")
    unread = arms_of_runs(site.root, (), "", TODAY)

    assert [run.run for run in found.arms] == ["three", "two"]
    assert [each.code for each in found.findings] == ["unknown-key", "unknown-unit", "long-gap"]
    assert unread == FoundArms(None, (), unread.findings)
    assert [each.source.file for each in unread.findings] == ["journal.yaml"]


def test_facts_of_a_package_are_measured_with_its_prices(tmp_path: Path) -> None:
    """A figure in money is the same as in the journal that wrote the package."""
    lit = leaf("First", more="light: {lamp: bar, hours: 14 h}\n")
    lit += "  - day: 30\n    end: {why: full tub, plants: cleared}\n"
    site = Site.of(tmp_path, {"one": lit})
    site.edit("journal.yaml", "title:", "prices: {currency: EUR, electricity: 0.30 per kWh}\ntitle:")
    site.write()
    (there,) = facts_of(site.root, ["one"], TODAY)[1]
    journal, facts, _ = facts_of_package(site.output / "data" / "one" / "datapackage.json")

    assert journal is not None
    assert facts is not None
    assert journal.prices.currency == "EUR"
    assert facts.harvest.costs == there.harvest.costs
