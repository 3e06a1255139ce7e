"""Note templates of a journal: `look/notes/KIND.md` takes the place of the layout of a kind of notes.

In: a draft, the facts, a template. Out: text, or a finding with its line. A template runs in a sandbox with plain texts,
lists and numbers of the draft and of the facts; a name that does not exist is a finding, as in a recap.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from jinja2 import StrictUndefined, TemplateSyntaxError
from jinja2.exceptions import SecurityError, TemplateError, UndefinedError

from sitegen.core.facts.figure import figures
from sitegen.core.facts.tree import Facts
from sitegen.core.files.inside import is_file_inside
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.language.wording import Wording
from sitegen.core.site.author_templates import FAILURES, AuthorEnvironment, rendering
from sitegen.notes.data import draft_data
from sitegen.notes.draft import Draft

FOLDER = "look/notes"
_MEND = (
    "use the names that `sitegen notes EXPERIMENT --json` prints, and `facts`, such as `facts.harvest.total`"
)


def template_file(root: Path, kind: str) -> Path | None:
    """The journal's own template of a kind; None where it has none."""
    path = root / FOLDER / f"{kind}.md"
    return path if is_file_inside(path, root) else None


def filled(path: Path, root: Path, draft: Draft, facts: Facts, wording: Wording, findings: Findings) -> str:
    """The text of a template with the values of a draft; empty where it has an error."""
    place = path.relative_to(root).as_posix()
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        findings.add(
            "bad-template", Source(place), f"the template cannot be read: {error}", mend="save it as UTF-8"
        )
        return ""
    environment = AuthorEnvironment(undefined=StrictUndefined, autoescape=False, keep_trailing_newline=True)
    try:
        with rendering():
            return environment.from_string(text).render(**_values(draft, facts, wording))
    except TemplateSyntaxError as error:
        findings.add(
            "bad-template", Source(place, error.lineno), str(error.message), mend="mend the template"
        )
    except UndefinedError as error:
        findings.add("bad-template", Source(place, _line_of(error)), str(error.message), mend=_MEND)
    except SecurityError as error:
        findings.add("bad-template", Source(place, _line_of(error)), f"not allowed: {error}", mend=_MEND)
    except (TemplateError, *FAILURES) as error:
        findings.add("bad-template", Source(place, _line_of(error)), f"cannot be filled: {error}", mend=_MEND)
    return ""


def _values(draft: Draft, facts: Facts, wording: Wording) -> dict[str, Any]:
    """The names of a template: those of the draft as data, and the facts in words by their paths."""
    return {**draft_data(draft, wording), "facts": facts_in_words(facts, wording)}


def facts_in_words(facts: Facts, wording: Wording) -> dict[str, Any]:
    """Each recorded figure in words, in nested mappings by the names of its path."""
    found: dict[str, Any] = {}
    for figure in figures(facts):
        *path, last = figure.name.split(".")
        node: Any = found
        for name in path:
            node = node.setdefault(name, {})
            if not isinstance(node, dict):
                break
        else:
            node[last] = wording.say(figure)
    return found


def _line_of(error: BaseException) -> int:
    """The line of a template on which it stopped."""
    trace, line = error.__traceback__, 1
    while trace is not None:
        if trace.tb_frame.f_code.co_filename == "<template>":
            line = trace.tb_lineno
        trace = trace.tb_next
    return line
