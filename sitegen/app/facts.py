"""`sitegen facts`: the computed facts of one experiment or of all, as a table or as JSON."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from sitegen.app.options import report, root_of, today_option
from sitegen.app.status import Status
from sitegen.core.facts import Facts, figures
from sitegen.core.text import did_you_mean

__all__ = ["command"]

Say = Callable[[Any], str]


@click.command(
    "facts",
    epilog="Example: sitegen facts pak-choi-pairs --json",
    help="Print computed facts of the EXPERIMENTS named (default: all), as a table or as JSON.",
)
@click.argument("experiments", nargs=-1)
@click.option(
    "--journal", type=click.Path(path_type=Path, exists=True, file_okay=False), help="The journal's folder."
)
@click.option("--json", "as_json", is_flag=True, help="As JSON, on stdout.")
@click.option("--why", metavar="NAME", help="The working of one figure, such as harvest.total.")
@today_option
def command(
    experiments: tuple[str, ...], journal: Path | None, as_json: bool, why: str | None, today: dt.date
) -> int:
    """Print facts; 1 where an experiment has errors."""
    from sitegen.core.wording import Wording  # noqa: PLC0415 - `--help` does without
    from sitegen.pipeline import facts_of  # noqa: PLC0415 - as above

    folder, wanted = _split(experiments, journal)
    root = root_of(folder)
    shelf, all_facts, findings = facts_of(root, wanted, today)
    if shelf is not None:
        _refuse_unknown(wanted, tuple(f.id for f in shelf.folders))
    report([f for f in findings if f.is_error], root)
    if shelf is None:
        return Status.ERRORS
    wording = Wording(shelf.journal.units, shelf.journal.language)
    if why is not None:
        _print_why(why, all_facts, wording.say, root)
    elif as_json:
        _print_json(all_facts, wording.say)
    else:
        for facts in all_facts:
            _print_table(facts, wording.say)
    return Status.ERRORS if any(f.is_error for f in findings) else Status.DONE


def _split(words: tuple[str, ...], journal: Path | None) -> tuple[Path | None, tuple[str, ...]]:
    """The journal's folder and the experiments; a folder may be named like an experiment."""
    wanted = []
    for word in words:
        path = Path(word)
        if (path / "journal.yaml").is_file():
            journal = path
        elif (path / "experiment.yaml").is_file():
            journal = journal or path.resolve().parent.parent.parent
            wanted.append(path.resolve().name)
        else:
            wanted.append(word)
    return journal, tuple(wanted)


def _refuse_unknown(wanted: tuple[str, ...], known: tuple[str, ...]) -> None:
    for name in wanted:
        if name not in known:
            raise click.UsageError(f"there is no experiment `{name}`: {did_you_mean(name, known)}")


def _print_json(all_facts: tuple[Facts, ...], say: Say) -> None:
    from sitegen.core.facts_data import FACTS_FORMAT, facts_data  # noqa: PLC0415 - one form is imported

    data = {"format": FACTS_FORMAT, "experiments": [facts_data(facts, say) for facts in all_facts]}
    click.echo(json.dumps(data, indent=1, ensure_ascii=False))


def _print_why(name: str, all_facts: tuple[Facts, ...], say: Say, root: Path) -> None:
    from sitegen.app.why import working_text  # noqa: PLC0415 - one form is imported
    from sitegen.measure import methods  # noqa: PLC0415 - as above

    for facts in all_facts:
        known = {figure.name: figure for figure in figures(facts)}
        if name not in known:
            raise click.UsageError(f"`{facts.id}` has no figure `{name}`: {did_you_mean(name, known)}")
        click.echo(f"{facts.id}: {facts.run.setup.title}")
        click.echo(working_text(known[name], methods(), say, root) + "\n")


def _print_table(facts: Facts, say: Say) -> None:
    click.echo(f"{facts.id}: {facts.run.setup.title}")
    rows = [(figure.name, say(figure)) for figure in figures(facts)]
    width = max((len(name) for name, _ in rows), default=0)
    for name, text in rows:
        click.echo(f"  {name:<{width}}  {text}")
    click.echo()
