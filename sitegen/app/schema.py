"""`sitegen schema`: the format, as JSON Schema for editors or in words for people.

In: the file that a schema is for, the journal whose names it offers. Out: the schema or the reference on stdout.
"""

from __future__ import annotations

import json
from pathlib import Path

import click

from sitegen.app.options import JOURNAL_FOLDER
from sitegen.core.format.own_names import OwnNames
from sitegen.core.format.schema import FILES, reference, schema


@click.command(
    "schema",
    epilog="Example: sitegen schema experiment.yaml --for pak-choi-pairs > experiment.schema.json",
    help="Print the format: in words, or as the JSON Schema of one FILE. In a journal, a schema offers its systems, "
    "lamps, products, crops and varieties.",
)
@click.argument("file", required=False, type=click.Choice(list(FILES)))
@click.option("--json", "as_json", is_flag=True, help="The schemas of all files, as one JSON object.")
@click.option(
    "--journal",
    type=JOURNAL_FOLDER,
    help="The journal whose names are offered.  [default: the one here]",
)
@click.option(
    "--for",
    "experiment",
    metavar="EXPERIMENT",
    default="",
    help="Its plants, groups, tubs and stages too, for `experiment.yaml` unless FILE is given.",
)
def command(file: str | None, as_json: bool, journal: Path | None, experiment: str) -> None:
    """Print the reference, or a schema."""
    if file is None and experiment and not as_json:
        file = "experiment.yaml"
    if file is None and not as_json:
        if journal is not None:
            raise click.UsageError(
                "names are offered by a schema: name a FILE, such as `experiment.yaml`, or `--json`"
            )
        click.echo(reference())
        return
    names = _names(journal, experiment)
    found = schema(file, names) if file is not None else {name: schema(name, names) for name in FILES}
    click.echo(json.dumps(found, indent=2))


def _names(journal: Path | None, experiment: str) -> OwnNames:
    """The names of the journal named, else of the one that the current folder is in, else none."""
    from sitegen.app.options import root_of, unknown_run  # noqa: PLC0415 - the reference does without

    try:
        root = root_of(journal)
    except click.UsageError:
        if journal is not None or experiment:
            raise
        return OwnNames()
    from sitegen.pipeline.own_names import names_of  # noqa: PLC0415 - as above

    names, ids = names_of(root, experiment)
    if experiment and experiment not in ids:
        raise unknown_run(experiment, ids)
    return names
