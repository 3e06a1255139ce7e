"""The set-up of an earlier run as the start of a planned one.

In: the folder of a run that there is. Out: `OldRun`, or findings where it cannot be read; a `Draft` with its values as
they were written. Its log, its answer and whatever is about its page are not taken; what its author would change is the
new question, in the author's words.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from sitegen.app.begin.draft import Draft
from sitegen.app.begin.yaml_text import flow_text, list_node, mapping_node, text_node
from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.records.setup import Setup
from sitegen.ingest import ExperimentFolder, JournalFiles
from sitegen.ingest.journal import load_table
from sitegen.ingest.setup.experiment import read_setup
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Scalar

_TAKEN = ("crop", "variety", "system", "tubs", "plants", "groups", "compare", "seed", "light")
# The new run has its own, or says why.
_OWN = ("format", "title", "question", "start", "disclosure", "publish", "draft")


@dataclass(frozen=True, slots=True)
class OldRun:
    """An earlier run: its set-up, and the values of its file as they were written."""

    setup: Setup
    values: dict[str, Node]

    @property
    def id(self) -> str:
        """The name of its folder."""
        return self.setup.id


def read_old(
    folder: ExperimentFolder, journal_files: JournalFiles
) -> tuple[OldRun | None, tuple[Finding, ...]]:
    """An earlier run, or the errors that keep its set-up from being known."""
    findings = Findings(units=journal_files.journal.units)
    fields = load_table(folder.path / "experiment.yaml", journal_files.root, "experiment", findings)
    found = None if fields is None else read_setup(fields, folder.id, folder.season, journal_files.library)
    errors = tuple(finding for finding in findings if finding.is_error)
    if fields is None or found is None or errors:
        return None, errors
    return OldRun(found[0], fields.values), ()


def draft_like(old: OldRun, title: str, start: str, today: date) -> Draft:
    """A planned run with the set-up of an earlier one."""
    draft = Draft.of(title, start)
    draft.values |= {key: old.values[key] for key in _TAKEN if key in old.values}
    left = [key for key in old.values if key not in (*_TAKEN, *_OWN)]
    draft.note(
        "format", f"Set up like {old.id}." + (f" Not taken from it: {', '.join(left)}." if left else "")
    )
    _ask(draft, old)
    if "disclosure" in old.values:
        draft.note("disclosure", f"Of {old.id}: does it hold again?", _as_comment("disclosure", old))
    if old.setup.draft or (old.setup.publish is not None and old.setup.publish > today):
        draft.note("draft", f"{old.id} is held back, and so is what was taken from it.")
        draft.values["draft"] = text_node("true")
    routines = list(_routines(old))
    if routines:
        draft.last = [f"Routines of {old.id}, for the log when they begin:", *routines]
    return draft


def leave_groups(draft: Draft, old: OldRun) -> None:
    """Take the groups of the earlier run out, and name the plants themselves where another key names a group."""
    draft.note("groups", f"{_as_comment('groups', old)}  # of {old.id}")
    del draft.values["groups"]
    groups, variety = dict(old.setup.groups), draft.values.get("variety")
    if isinstance(variety, Mapping) and any(pair.key.text in groups for pair in variety):
        draft.values["variety"] = mapping_node(
            {plant.id: text_node(plant.variety) for plant in old.setup.plants}
        )
    tubs = draft.values.get("tubs")
    if isinstance(tubs, Mapping):
        draft.values["tubs"] = mapping_node(
            {pair.key.text: _with_plants(pair.key.text, pair.value, old) for pair in tubs}
        )


def _with_plants(tub: str, node: Node, old: OldRun) -> Node:
    """A tub with its plants by their own names, where it has a group's."""
    assert isinstance(node, Mapping), "it was read as one"
    plants, groups = node.get("plants"), dict(old.setup.groups)
    named = plants.items if isinstance(plants, Items) else (plants,)
    if not any(isinstance(each, Scalar) and each.text in groups for each in named):
        return node
    own = list_node(tuple(plant.id for plant in old.setup.plants if plant.tub == tub))
    return mapping_node({pair.key.text: own if pair.key.text == "plants" else pair.value for pair in node})


def _as_comment(key: str, old: OldRun) -> str:
    return f"{key}: {flow_text(old.values[key])}"


def _ask(draft: Draft, old: OldRun) -> None:
    """The question: what the author would change, else what the earlier run asked."""
    question = " ".join(old.setup.question.split())
    change = " ".join(old.setup.answer.change.split()) if old.setup.answer else ""
    if change:
        if question:
            draft.note("question", f"{old.id} asked: {question}")
        draft.note("question", "What to change next time, in the words of its answer; make it the question:")
        draft.values["question"] = text_node(change)
    elif question:
        draft.note("question", f"The question of {old.id}; its answer names nothing to change.")
        draft.values["question"] = old.values["question"]
    else:
        draft.note("question", "question: What is this run to show?")


def _routines(old: OldRun) -> Iterator[str]:
    """The entries of the earlier log that began a routine, without whatever else was done on that day."""
    log = old.values.get("log")
    for entry in log.items if isinstance(log, Items) else (log,):
        if not isinstance(entry, Mapping) or (routine := entry.get("from_now")) is None:
            continue
        key = "day" if entry.get("day") is not None else "date"
        when = entry.get(key)
        if when is not None:
            yield f"  - {key}: {flow_text(when)}"
            yield f"    from_now: {flow_text(routine)}"
