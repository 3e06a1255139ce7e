"""Pitfalls of YAML: texts that it reads without an error and not as written, because of a sign, a comma or a comment.

In: the parser's result and its place. Out: findings, each with the mend that keeps the text.
"""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.core.findings.finding import Findings, Source
from sitegen.ingest.yaml.line_checks import (
    CUT,
    TEXT_KEYS,
    block_mend,
    colon_fault,
    mend_of,
    quoted,
    values_on,
)


def quoted_mend(line: str, column: int) -> str:
    """The mend for a value that begins at a column with a sign of YAML; empty where it is not that of a key."""
    text = next((text for text in values_on(line) if text.column == column), None)
    return mend_of(text) if text else ""


def report_comma(
    source: Source, pieces: Sequence[str], key: str, value: str | None, findings: Findings
) -> None:
    """A finding for a text that commas inside braces cut into keys."""
    first = pieces[0]
    if tight := colon_fault(first):
        findings.add(
            "yaml-twist", source.part(tight.column, tight.width), tight.message, mend=tight.mend, found=first
        )
        return
    if not key:
        message = f"`{first}` stands in braces without a value"
        mend = f"write a list, `[{', '.join(pieces)}]`, or a value after `{first}: `"
    else:
        message = f"the comma before `{first}` begins a new key here"
        mend = _comma_mend(key, value, ", ".join([value or "", *pieces]), first)
    findings.add("yaml-twist", source, message, mend=mend, found=first)


def _comma_mend(key: str, value: str | None, whole: str, first: str) -> str:
    if value is None:
        return f"write a value after `{first}: `"
    text = f"`{key}: {quoted(whole)}`"
    one_text = key in TEXT_KEYS or " " in first
    return f"write {text}" if one_text else f"write a value after `{first}: `, or {text} for one text"


def report_braces(key: str, whole: str, source: Source, findings: Findings) -> None:
    """A finding for a text that begins with a brace or a bracket, as a mapping or a list does in YAML."""
    kind = "a list" if whole.startswith("[") else "keys and values"
    message = f"in `{key}`, `{whole[0]}` begins {kind}, and `{key}` is a text"
    findings.add("yaml-twist", source, message, mend=f"write `{key}: {quoted(whole)}`", found=whole)


def report_cut(key: str, value: str, after: str, source: Source, findings: Findings) -> str:
    """A finding for a text whose end YAML took for a comment, because of ` #`; returns the text as written.

    `after` is the rest of the value's last line, and `source` the place where it begins.
    """
    cut = CUT.match(after)
    if cut is None:
        return value
    offset = cut.end() - 1
    whole = f"{value}{after.rstrip()}".strip()
    mend = block_mend(key) if "\n" in value or len(whole) >= 60 else f"write `{key}: {quoted(whole)}`"
    place = source.part(offset, len(after.rstrip()) - offset)
    message = f"in `{key}`, what follows ` #` is a comment and would be lost"
    findings.add(
        "yaml-twist", place, message, mend=f"{mend}, or two spaces before a comment", found=after.strip()
    )
    return whole
