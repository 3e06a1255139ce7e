"""A journal's own layout of notes: strict names, a sandbox, findings with their line."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.core.findings.finding import Findings
from sitegen.notes.drafts import Wanted, draft_of
from sitegen.notes.templates import FOLDER, filled, template_file
from tests.notes.materials import of_demo


def _filled(root: Path, text: str) -> tuple[str, Findings]:
    folder = root / FOLDER
    folder.mkdir(parents=True)
    (folder / "post.md").write_text(text, "utf-8")
    path = template_file(root, "post")
    assert path is not None
    material = of_demo("pebble-two-lamps")
    draft = draft_of(material, Wanted("post"))
    assert draft is not None
    findings = Findings()
    return filled(path, root, draft, material.facts, material.wording, findings), findings


def test_a_template_has_the_draft_and_the_facts(tmp_path: Path) -> None:
    """Sentences with their lines, and every figure in words by its path."""
    text, findings = _filled(
        tmp_path,
        "{{ title }}: {{ facts.harvest.total }}\n{% for section in sections %}{% for each in section.sentences %}"
        "{{ each.text }}|{% endfor %}{% endfor %}\n",
    )
    assert list(findings) == []
    first, second = text.replace("\u00a0", " ").splitlines()
    assert first == "Pebble Lantern under two lamps: at least 1.330 kg (2 lb 14.9 oz)"
    assert second.startswith("Does the large panel earn its current on a dwarf tomato?|6 plants, 134 days, ")


@pytest.mark.parametrize(
    ("text", "line", "message"),
    [
        ("one\n{{ titel }}\n", 2, "'titel' is undefined"),
        ("{{ facts.harvest.totl }}", 1, "'dict object' has no attribute 'totl'"),
        ("one\ntwo\n{% for x in sections %}", 3, "Unexpected end of template"),
        ("{{ title.__class__.__mro__ }}", 1, "not allowed: "),
        ("{{ cycler.__init__.__globals__.os.popen('true') }}", 1, "not allowed: "),
        ("{{ 1e400 }}{{ [1e400]('') }}", 1, "cannot be filled: name 'inf' is not defined"),
        ("{{ 1" + "+1" * 300 + " }}", 1, "cannot be filled: too many nested parentheses"),
        ("{{ '{-}'.format() }}", 1, "cannot be filled: '-'"),
        ("{{ 1 / 0 }}", 1, "cannot be filled: division by zero"),
        ("\n{% for x in range(999999999) %}{{ x }}{% endfor %}", 2, "cannot be filled: Range too big"),
    ],
)
def test_what_a_template_gets_wrong_is_a_finding(tmp_path: Path, text: str, line: int, message: str) -> None:
    """A name that does not exist, a syntax error, a way out of the sandbox: a finding with its line, and no text."""
    made, findings = _filled(tmp_path, text)
    assert made == ""
    (finding,) = findings
    assert (finding.code, finding.source.file, finding.source.line) == (
        "bad-template",
        "look/notes/post.md",
        line,
    )
    assert finding.message.startswith(message)
    assert finding.mend


def test_without_a_template_there_is_none(tmp_path: Path) -> None:
    """Most journals have none."""
    assert template_file(tmp_path, "script") is None
