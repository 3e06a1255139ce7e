"""A crop or a system that a journal does not know yet, added to crops.yaml or gear.yaml.

In: the journal's folder, an id, answers. Out: the file with one item more; every byte that was there stays.
"""

from __future__ import annotations

import re
from pathlib import Path

import click

from sitegen.app.begin.asking import asked
from sitegen.app.begin.files import held
from sitegen.app.begin.yaml_text import text_node
from sitegen.app.options import refuse_outside
from sitegen.core.findings.finding import Findings
from sitegen.core.reference.milestones import KINDS
from sitegen.core.values.units import Dimension
from sitegen.filing.entries.entry_text import braced, text_value
from sitegen.filing.safe_file import replace_file
from sitegen.ingest.values.quantities import quantity_in
from sitegen.ingest.yaml.nodes import Mapping, check_id
from sitegen.ingest.yaml.parser import parse


def add_crop(root: Path, crop: str) -> None:
    """Ask for the name and the kind of a crop, and add it."""
    _check(crop)
    click.echo(f"`{crop}` is new to crops.yaml.", err=True)
    name = asked("Its name?", default=_as_name(crop))
    kind = asked("Its kind?", KINDS)
    _insert(root / "crops.yaml", "", crop, f"{crop}:\n  name: {text_value(name)}\n  kind: {kind}\n", root)


def add_system(root: Path, system: str) -> None:
    """Ask for the name, the spots and the water of a system, and add it; what is not known is left out."""
    _check(system)
    click.echo(f"`{system}` is new to gear.yaml.", err=True)
    values = {"name": text_value(asked("Its name?", default=_as_name(system)), braced=True)}
    kind = asked("What kind of system, in words? (empty: left out)", default="")
    spots = asked("How many spots has it? (empty: left out)", default="")
    reservoir = asked("How much water does it hold, such as 11 L? (empty: left out)", default="")
    if kind:
        values["kind"] = text_value(kind, braced=True)
    if re.fullmatch(r"[1-9]\d*", spots):
        values["spots"] = spots
    if reservoir and quantity_in(reservoir, Dimension.VOLUME) is not None:
        values["reservoir"] = reservoir
    for key, answer in (("spots", spots), ("reservoir", reservoir)):
        if answer and key not in values:
            click.echo(
                f"`{answer}` was left out: `{key}` wants a value such as {'6' if key == 'spots' else '11 L'}",
                err=True,
            )
    _insert(root / "gear.yaml", "systems", system, f"{system}: {braced(tuple(values.items()))}\n", root)


def _check(name: str) -> None:
    findings = Findings()
    if not check_id(text_node(name), findings):
        finding = next(iter(findings))
        raise click.UsageError(f"{finding.message}: {finding.mend}; nothing was written")


def _as_name(identity: str) -> str:
    return identity.replace("-", " ").capitalize()


def _insert(path: Path, section: str, name: str, item: str, root: Path) -> None:
    """Add an item at the end of a file, or below a key of it."""
    refuse_outside(path, root)
    with held(root):
        before = path.read_text("utf-8") if path.is_file() else ""
        after = with_item(before, section, item)
        if after is None or not _holds(after, section, name):
            block = "".join(f"  {line}\n" for line in item.splitlines()) if section else item
            raise click.UsageError(
                f"`{path}` is written in a way that nothing can be added to; add it yourself:\n"
                + (f"{section}:\n" if section else "")
                + block
            )
        replace_file(path, after.encode())
    click.echo(f"added `{name}` to {path}", err=True)


def with_item(text: str, section: str, item: str) -> str | None:
    """The text with an item more; None where the section is not written line by line."""
    if text and not text.endswith("\n"):
        text += "\n"
    if not section:
        return text + item
    lines = text.splitlines(keepends=True)
    at = next(
        (number for number, line in enumerate(lines) if re.match(rf"{section}:\s*(?:#.*)?$", line)), None
    )
    if at is None:
        return None if re.search(rf"^{section}:", text, re.MULTILINE) else f"{text}{section}:\n  {item}"
    end, indent = at + 1, "  "
    for number in range(at + 1, len(lines)):
        line = lines[number]
        if line.strip() and not line[0].isspace():
            break
        if line.strip() and not line.lstrip().startswith("#"):
            end = number + 1
            indent = line[: len(line) - len(line.lstrip())] if end == at + 2 else indent
    return "".join([*lines[:end], indent + item, *lines[end:]])


def _holds(text: str, section: str, name: str) -> bool:
    """Whether a text is sound and has the item."""
    findings = Findings()
    node = parse(text, "new", findings)
    if not isinstance(node, Mapping) or any(finding.is_error for finding in findings):
        return False
    inside = node.get(section) if section else node
    return isinstance(inside, Mapping) and inside.get(name) is not None
