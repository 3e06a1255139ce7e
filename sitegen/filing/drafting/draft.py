"""The draft of a run: what a sheet or a diary says, with everything that was assumed, as the text of experiment.yaml.

In: what was `Found`, and the set-up as far as it is known. Out: `Drafted`.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.core.format import FORMAT
from sitegen.filing.drafting.log_text import comment, log_text
from sitegen.filing.drafting.records import Found
from sitegen.filing.entries.entry_text import bracketed, text_value


@dataclass(frozen=True, slots=True)
class SetUp:
    """The set-up of a drafted run, as texts; `plants` are their names, or their number."""

    title: str
    crop: str
    system: str
    start: str
    plants: Sequence[str] | int
    variety: str = ""


def plants_value(plants: Sequence[str] | int) -> str:
    """The plants as the format has them: a number where they are P1, P2 and so on."""
    if isinstance(plants, int):
        return str(plants)
    if list(plants) == [f"P{number}" for number in range(1, len(plants) + 1)]:
        return str(len(plants))
    return bracketed(plants)


def in_order(plants: Sequence[str]) -> list[str]:
    """Plants by their word and their number."""

    def key(plant: str) -> tuple[str, int, str]:
        digits = plant[len(plant.rstrip("0123456789")) :]
        return plant.removesuffix(digits), int(digits or 0), plant

    return sorted(plants, key=key)


def all_plants(found: Found) -> list[str]:
    """Every plant that the source names, in order."""
    named = [*found.plants, *(plant for record in found.records for plant in record.plants)]
    return in_order(list(dict.fromkeys(named)))


def draft_text(source: str, setup: SetUp, found: Found, assumed: Sequence[str]) -> str:
    """The text of experiment.yaml."""
    loose = [each for each in found.kept if each.when is None]
    head = [comment(f"Drafted from {source}. Assumed, line by line; mend what is not so:")]
    head += [comment(f"- {line}") for line in assumed] or [comment("- nothing")]
    if loose or found.titles:
        head.append(comment("Above the tables, or not read, with the place of each:"))
        head += [comment(f"- {place}: {text}") for place, text in found.titles]
        head += [comment(f"- {each.place}: {each.text}") for each in loose]
    lines = [
        f"format: {FORMAT}",
        f"title: {text_value(setup.title)}",
        "# question: What was this run to show?",
    ]
    lines += [f"crop: {setup.crop}", f"system: {setup.system}", f"start: {setup.start}"]
    lines += [f"plants: {plants_value(setup.plants)}"]
    lines.append("draft: true  # held back until you have read it; then remove this line")
    if found.readings:
        lines += ["readings:", *(f"  - {item}" for item in found.readings)]
    try:
        start = dt.date.fromisoformat(setup.start)
    except ValueError:  # a month, or unknown
        start = None
    log = log_text(found, start)
    lines.append("log:" if found.records or found.entries else "log: []")
    return "".join(head) + "\n".join(lines) + "\n" + log
