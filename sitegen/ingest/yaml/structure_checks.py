"""Checks of the structure of lines, without the parser: colons, dashes, indentation.

In: a line, or the lines of a text and the number of one. Out: `LineFault`, with the mend where only one reading is left.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from sitegen.core.findings.mend import Edit, Mend, in_line
from sitegen.core.language.text import plural
from sitegen.ingest.yaml.keys import KNOWN_KEYS
from sitegen.ingest.yaml.line_checks import MAX_EXAMINED, LineFault, block_mend

# Signs that look like a space, or like nothing, and are no space for YAML.
_UNSEEN = "\u00a0\u1680\u2000-\u200d\u202f\u205f\u2060\u3000"
_UNSEEN_FIRST = re.compile(rf"^[\s{_UNSEEN}]+")
_TIGHT = re.compile(
    rf"(?P<lead>\s*(?:- +)*)(?P<key>[A-Za-z_][\w-]*):(?:(?P<unseen>[{_UNSEEN}])\s*|(?=[^\s:/]))(?P<value>\S.*)"
)
_NO_COLON = re.compile(
    r"(?P<lead>\s*(?:- +)*)(?P<key>[a-z_]+)(?P<sign>\s*[=;]\s*|\s+-?\s*)(?P<value>[^\s:].*)"
)
_EQUALS = re.compile(r"(?P<key>[A-Za-z_][\w-]*)\s*=\s*(?P<value>[^\s=].*)")
_BRACKETS = re.compile(r"\{[^{}\[\]]*\}|\[[^{}\[\]]*\]")
_LONE_KEY = re.compile(r"(?P<lead> *(?:- +)?)(?P<key>[A-Za-z_][\w-]*)\s*")
_KEY_LINE = re.compile(r"(?P<lead> *)(?P<dash>- +)?(?P<key>[\w-]+):(?=\s|$)\s*(?P<value>.*)")
# An item of the log without its `- `, or with another sign.
_ITEM = re.compile(r"(?P<lead> *)(?P<sign>[-–—*•+]?)(?P<space> *)(?P<key>day|date): *(?P<value>\S.*)")
_LOOK_BACK = 40  # lines; an entry is shorter
_TAB_WIDTHS = (2, 4, 8)


def colon_fault(line: str) -> LineFault | None:
    """`harvest:2 oz`, `harvest 2 oz` and `harvest = 2 oz`."""
    if len(line) > MAX_EXAMINED:
        return None
    if tight := _TIGHT.fullmatch(line):
        return _tight_fault(line, tight)
    loose = _NO_COLON.fullmatch(line)
    if loose is None or loose["key"] not in KNOWN_KEYS:
        return None
    key, value = loose["key"], loose["value"].strip()
    if ": " in line and not _BRACKETS.fullmatch(_without_inner(value)):
        return None
    message = f"there is no colon after `{key}`"
    old = line[loose.start("key") :].rstrip()
    mend = in_line(loose.start("key"), old, f"{key}: {value}")
    return LineFault(loose.start("key"), len(key), message, mend, line.strip()[:60])


def _tight_fault(line: str, tight: re.Match[str]) -> LineFault:
    key, value, start = tight["key"], tight["value"].strip(), tight.start("key")
    message = f"there is no space after the colon of `{key}`"
    if sign := tight["unseen"]:
        message = f"an unseen sign (U+{ord(sign):04X}) follows the colon of `{key}`, where YAML wants a space"
    old = line[start:].rstrip()
    mend = in_line(start, old, f"{key}: {_UNSEEN_FIRST.sub('', value)}")
    return LineFault(tight.start("key") + len(key), 1, message, mend, old[:60])


def pair_fault(text: str, *, after_text: bool) -> LineFault | None:
    """The same for a text in braces, where a word before `=` can be any key.

    After a text (`after_text`) it may be a part of that, unless its first word is a key of the format.
    """
    if len(text) > MAX_EXAMINED:
        return None
    if (equals := _EQUALS.fullmatch(text)) and ": " not in text:
        key, value = equals["key"], equals["value"].strip()
        message, mend = f"there is no colon after `{key}`", in_line(0, text, f"{key}: {value}")
        return None if after_text and key not in KNOWN_KEYS else LineFault(0, len(text), message, mend, text)
    tight = _TIGHT.fullmatch(text)
    if after_text and not (tight and tight["key"] in KNOWN_KEYS):
        return None
    return colon_fault(text)


def _without_inner(text: str) -> str:
    """A text whose inner pairs of brackets are taken out: what is left of a sound list or mapping is one pair."""
    opens, closes = text[:1], text[-1:]
    inner = text[1:-1]
    while (fewer := _BRACKETS.sub("", inner)) != inner:
        inner = fewer
    return f"{opens}{inner}{closes}"


def lone_key_fault(lines: Sequence[str], number: int) -> LineFault | None:
    """A key without its colon, below which its list or mapping begins."""
    lone = _LONE_KEY.fullmatch(lines[number])
    below = next((line for line in lines[number + 1 :] if line.strip()), "")
    if lone is None or not re.match(r" *(?:- |[\w-]+:(?:\s|$))", below):
        return None
    column, key = lone.start("key"), lone["key"]
    deeper = _indent(below) > column or (_indent(below) == column and below.lstrip().startswith("- "))
    beside = [own for own, _ in _open_columns(lines, number, "key")]
    if not deeper or (beside and column not in beside):
        return None
    mend = replace(in_line(column, key, f"{key}:"), safe=key in KNOWN_KEYS)
    return LineFault(column, len(key), f"there is no colon after `{key}`", mend, key)


def item_fault(line: str) -> LineFault | None:
    """`day: 20`, `-day: 20` and `* day: 20` where an entry begins."""
    if len(line) > MAX_EXAMINED:
        return None
    item = _ITEM.fullmatch(line)
    if item is None or (item["sign"] == "-" and item["space"]):
        return None
    key = item["key"]
    message = {
        "": f"an entry begins with `- `, and this `{key}` has none",
        "-": f"there is no space between `-` and `{key}`",
    }.get(item["sign"], f"an entry begins with `- `, not with `{item['sign']}`")
    start = item.start("sign") if item["sign"] else item.start("key")
    mend = in_line(start, line[start:].rstrip(), f"- {key}: {item['value'].strip()}")
    return LineFault(start, len(item["sign"]) or len(key), message, mend, line.strip()[:60])


def continued_text(lines: Sequence[str], number: int) -> LineFault | None:
    """A text whose second line holds `: `."""
    above = _KEY_LINE.fullmatch(lines[number - 1]) if number else None
    line = lines[number]
    at = line.find(": ")
    if above is None or not above["value"] or at < 0 or _KEY_LINE.fullmatch(line):
        return None
    if _indent(line) < above.start("key"):
        return None
    message = f"the text of `{above['key']}` goes on here, and its `: ` begins a mapping"
    return LineFault(at, 1, message, block_mend(above["key"]), line.strip()[:60])


def unseen_indent(lines: Sequence[str], number: int) -> LineFault | None:
    """A tab, or a sign that looks like a space, in the indentation."""
    line = lines[number]
    lead = line[: _indent(line)]
    if "\t" in lead:
        message = "a tab indents this line; YAML takes only spaces"
        return LineFault(lead.index("\t"), 1, message, _untabbed(lines, number), "tab")
    if odd := re.search(f"[{_UNSEEN}]", lead):
        message = f"an unseen sign (U+{ord(odd.group()):04X}) indents this line; YAML takes only spaces"
        mend = _moved({number: (lead, " " * len(lead))}, f"write {plural(len(lead), 'space')} in its place")
        return LineFault(odd.start(), 1, message, mend, odd.group())
    return None


def _untabbed(lines: Sequence[str], number: int) -> str | Mend:
    """The mend for a line that tabs indent: the one width of a tab with which it stands beside a key above."""
    line = lines[number]
    lead = line[: _indent(line)]
    bare = _KEY_LINE.fullmatch(line.lstrip())
    above = next((text for text in reversed(lines[:number]) if text.strip()), "")
    parent = _KEY_LINE.fullmatch(above)
    if bare is None or parent is None or not parent["value"]:
        return "indent with spaces"
    part = "dash" if bare["dash"] else "key"
    columns = {column for column, _ in _open_columns(lines, number, part)}
    fit = {width for tab in _TAB_WIDTHS if (width := len(lead.replace("\t", " " * tab))) in columns}
    if len(fit) != 1:
        return "indent with spaces"
    width = fit.pop()
    return _moved({number: (lead, " " * width)}, f"indent with {plural(width, 'space')}")


def indent_fault(lines: Sequence[str], number: int) -> LineFault | None:
    """A key, or an item of a list, that is not aligned with those above."""
    line = _KEY_LINE.fullmatch(lines[number])
    if line is None:
        return None
    part = "dash" if line["dash"] else "key"
    above = list(_open_columns(lines, number, part))
    own = line.start(part)
    if not above or own in (column for column, _ in above):
        return None
    fitting = [each for each in above if _fits_below(lines, number, line, each[0])]
    near = sorted(fitting or above, key=lambda each: abs(each[0] - own))
    column, key = near[0]
    name, below = (f"`{line['key']}`", f"`{key}`") if part == "key" else ("`- `", "the `- ` above")
    spaces = plural(column, "space") if column else "no spaces"
    words = f"write {spaces} before {name}, so that it stands under {below}"
    sure = len(near) == 1 or 2 * abs(column - own) <= abs(near[1][0] - own)
    mend = _aligned(lines, number, line, column, words) if sure else None
    if not sure and part == "key":
        words += f", or {near[1][0]}, so that it stands under `{near[1][1]}`"
    message = f"{name} does not line up with {below}"
    return LineFault(own, len(line[part].rstrip()), message, mend or words, line["key"])


def _fits_below(lines: Sequence[str], number: int, line: re.Match[str], column: int) -> bool:
    """Whether the next key can follow a key with a value, if that stood in a column."""
    below = next((found for text in lines[number + 1 :] if (found := _KEY_LINE.fullmatch(text))), None)
    if line["dash"] or not line["value"] or below is None or below["dash"]:
        return True
    return below.start("key") <= column


def _aligned(lines: Sequence[str], number: int, line: re.Match[str], column: int, words: str) -> Mend | None:
    """The mend that moves a line to a column, and the lines below it where they moved with it."""
    own = _indent(lines[number])
    edits = {number: (lines[number][:own], " " * column)}
    inside = _inside(lines, number, max(own, column))
    first = min((_indent(lines[each]) for each in inside), default=None)
    step = column - own
    if line["dash"] and first is not None:
        if first not in (line.start("key"), line.start("key") + step):
            return None
        along = first == line.start("key")
    else:
        along = first is not None and first <= column
    if along:
        for each in inside:
            lead = lines[each][: _indent(lines[each])]
            edits[each] = (lead, " " * (len(lead) + step))
    return _moved(edits, words)


def _inside(lines: Sequence[str], number: int, limit: int) -> list[int]:
    """The numbers of the lines below one that are indented more than a limit."""
    found: list[int] = []
    for each in range(number + 1, len(lines)):
        if lines[each].strip() and _indent(lines[each]) <= limit:
            break
        found += [each] if lines[each].strip() else []
    return found


def _moved(edits: dict[int, tuple[str, str]], words: str) -> Mend:
    """The mend that writes other indentations, by the numbers of lines; the first stands for line 1."""
    first = min(edits)
    each = (Edit("", number - first + 1, 1, len(old), new, old) for number, (old, new) in edits.items())
    return Mend(tuple(each), words=words)


def _open_columns(lines: Sequence[str], number: int, part: str) -> Iterator[tuple[int, str]]:
    """The columns in which a key, or an item, can go on: each with the nearest key above that stands in it."""
    limit = 1000
    for line in reversed(lines[max(0, number - _LOOK_BACK) : number]):
        match = _KEY_LINE.fullmatch(line)
        if match is None:
            continue
        if match.start("key") < limit:
            limit = match.start("key")
            if part == "key":
                yield limit, match["key"]
        if match["dash"] and match.start("dash") < limit:
            limit = match.start("dash")
            if part == "dash":
                yield limit, match["key"]


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())
