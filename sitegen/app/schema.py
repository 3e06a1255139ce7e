"""`sitegen schema`: the format, as JSON Schema for editors or in words for people."""

from __future__ import annotations

import json

import click

from sitegen.core.format.schema import FILES, reference, schema


@click.command(
    "schema",
    epilog="Example: sitegen schema experiment.yaml > experiment.schema.json",
    help="Print the format: in words, or as the JSON Schema of one FILE.",
)
@click.argument("file", required=False, type=click.Choice(list(FILES)))
@click.option("--json", "as_json", is_flag=True, help="The schemas of all files, as one JSON object.")
def command(file: str | None, as_json: bool) -> None:
    """Print the reference, or a schema."""
    if file is not None:
        click.echo(json.dumps(schema(file), indent=2))
    elif as_json:
        click.echo(json.dumps({name: schema(name) for name in FILES}, indent=2))
    else:
        click.echo(reference())
