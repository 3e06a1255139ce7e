"""`sitegen facts`: the computed facts of one experiment or of all, as a table or as JSON."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from sitegen.app.console.status import Status
from sitegen.app.facts.compare import compare_runs
from sitegen.app.options import JOURNAL_FOLDER, named_runs, report, root_of, today_option, unknown_run
from sitegen.core.facts.figure import Figure, figures
from sitegen.core.facts.tree import Facts
from sitegen.core.language.text import did_you_mean, plural
from sitegen.core.records.setup import Journal
from sitegen.core.values.quantity import Quantity

Say = Callable[[Any], str]


@click.command(
    "facts",
    epilog="Example: sitegen facts pak-choi-pairs --json, or sitegen facts --crop tomato",
    help="Print computed facts of the EXPERIMENTS named (default: all), as a table or as JSON.",
)
@click.argument("experiments", nargs=-1)
@click.option("--journal", type=JOURNAL_FOLDER, help="The journal's folder.")
@click.option("--json", "as_json", is_flag=True, help="As JSON, with every figure.")
@click.option("--all", "everything", is_flag=True, help="Figures without a value, and of single arms, too.")
@click.option(
    "--from",
    "package",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="A datapackage.json taken from a site, instead of a journal.",
)
@click.option("--compare", is_flag=True, help="Compare the EXPERIMENTS with one another: of one crop.")
@click.option("--crop", metavar="ID", default="", help="Compare all experiments of a crop.")
@click.option("--why", metavar="NAME", help="The working of one figure, such as harvest.total.")
@today_option
def command(
    experiments: tuple[str, ...],
    journal: Path | None,
    as_json: bool,
    everything: bool,
    package: Path | None,
    compare: bool,
    crop: str,
    why: str | None,
    today: dt.date,
) -> int:
    """Print facts; 1 where an experiment has errors."""
    form = _Form(as_json, why, everything)
    if compare or crop:
        if package or why:
            raise click.UsageError(
                "a comparison is of a journal's experiments: leave out `--from` and `--why`"
            )
        folder, wanted = named_runs(experiments, journal)
        return compare_runs(root_of(folder), wanted, crop, today, as_json=as_json)
    if package is None:
        return _of_journal(experiments, journal, form, today)
    if experiments or journal:
        raise click.UsageError("`--from` takes its experiment from the package: name no other")
    return _of_package(package, form)


@dataclass(frozen=True, slots=True)
class _Form:
    """How facts are printed."""

    as_json: bool
    why: str | None
    everything: bool = False


def _of_package(package: Path, form: _Form) -> int:
    from sitegen.pipeline.facts import facts_of_package  # noqa: PLC0415 - `--help` does without

    journal, facts, findings = facts_of_package(package)
    root = package.parent
    report([f for f in findings if f.is_error], root)
    if journal is None or facts is None:
        return Status.ERRORS
    _print((facts,), journal, form, root)
    return Status.DONE


def _of_journal(experiments: tuple[str, ...], journal: Path | None, form: _Form, today: dt.date) -> int:
    from sitegen.pipeline.facts import facts_of  # noqa: PLC0415 - `--help` does without

    folder, wanted = named_runs(experiments, journal)
    root = root_of(folder)
    journal_files, all_facts, findings = facts_of(root, wanted, today)
    if journal_files is not None:
        _refuse_unknown(wanted, tuple(f.id for f in journal_files.folders))
    report([f for f in findings if f.is_error], root)
    if journal_files is None:
        return Status.ERRORS
    _print(all_facts, journal_files.journal, form, root)
    return Status.ERRORS if any(f.is_error for f in findings) else Status.DONE


def _print(all_facts: tuple[Facts, ...], journal: Journal, form: _Form, root: Path) -> None:
    from sitegen.core.language.wording import Wording  # noqa: PLC0415 - `--help` does without

    say = Wording(journal.units, journal.language).say
    if form.why is not None:
        _print_why(form.why, all_facts, say, root)
    elif form.as_json:
        _print_json(all_facts, say)
    else:
        for facts in all_facts:
            _print_table(facts, say, everything=form.everything)


def _refuse_unknown(wanted: tuple[str, ...], known: tuple[str, ...]) -> None:
    for name in wanted:
        if name not in known:
            raise unknown_run(name, known)


def _print_json(all_facts: tuple[Facts, ...], say: Say) -> None:
    from sitegen.core.facts.data import FACTS_FORMAT, facts_data  # noqa: PLC0415 - one form is imported

    data = {"format": FACTS_FORMAT, "experiments": [facts_data(facts, say) for facts in all_facts]}
    click.echo(json.dumps(data, indent=1, ensure_ascii=False))


def _print_why(name: str, all_facts: tuple[Facts, ...], say: Say, root: Path) -> None:
    from sitegen.app.facts.why import working_text  # noqa: PLC0415 - one form is imported
    from sitegen.measure import methods  # noqa: PLC0415 - as above

    for facts in all_facts:
        known = {figure.name: figure for figure in figures(facts)}
        if name not in known:
            raise click.UsageError(f"`{facts.id}` has no figure `{name}`: {did_you_mean(name, known)}")
        click.echo(f"{facts.id}: {facts.run.setup.title}")
        click.echo(working_text(known[name], methods(), say, root) + "\n")


def _print_table(facts: Facts, say: Say, *, everything: bool) -> None:
    """The figures of the whole run that have a value, and how many more there are."""
    click.echo(f"{facts.id}: {facts.run.setup.title}")
    found = list(figures(facts))
    shown = [figure for figure in found if everything or _is_shown(figure)]
    width = max((len(figure.name) for figure in shown), default=0)
    for figure in shown:
        click.echo(f"  {figure.name:<{width}}  {say(figure)}")
    if len(shown) < len(found):
        click.echo(
            f"  and {plural(len(found) - len(shown), 'figure')} of single arms or without a value: --all"
        )
    click.echo()


def _is_shown(figure: Figure) -> bool:
    value = figure.value
    has_value = value is not None and not (isinstance(value, Quantity) and not value.known)
    # Those of single arms are most of the figures of a run with arms.
    return has_value and not figure.name.startswith("sets.")
