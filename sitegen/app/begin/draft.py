"""The file of a planned run while it is put together: values by key, and comments above them.

In: nodes. Out: the text of experiment.yaml, with its keys in the order of the format and an empty log.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from sitegen.app.begin.files import entry_comments
from sitegen.app.begin.yaml_text import list_node, text_node, yaml_text
from sitegen.core.format import FORMAT, TABLES
from sitegen.ingest.yaml.nodes import Node


@dataclass(slots=True)
class Draft:
    """A planned run: `values` by key of the format, `notes` the lines of comments above a key, `last` those below all."""

    values: dict[str, Node] = field(default_factory=dict)
    notes: dict[str, list[str]] = field(default_factory=dict)
    last: list[str] = field(default_factory=list)

    @classmethod
    def of(cls, title: str, start: str) -> Draft:
        """A planned run of which only the title and the start are known."""
        log = list_node(())
        given = {"format": str(FORMAT), "title": title, "start": start}
        return cls({**{key: text_node(text) for key, text in given.items()}, "log": log})

    def note(self, key: str, *lines: str) -> None:
        """Add lines of comments above a key, which may itself not be there."""
        self.notes.setdefault(key, []).extend(" ".join(line.split("\n")).rstrip() for line in lines)

    def text(self) -> str:
        """The file."""
        parts = []
        for key in TABLES["experiment"].keys:
            parts += [f"# {line}\n" for line in self.notes.get(key, [])]
            if key in self.values:
                parts.append(yaml_text(key, self.values[key]))
        below = "".join(f"# {line}\n" for line in self.last)
        return "".join(parts) + (f"\n{below}" if below else "") + entry_comments()
