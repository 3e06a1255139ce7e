"""An entry is put behind the last one, in its layout, and every byte that was there stays."""

from __future__ import annotations

from typing import Any

import pytest
import yaml
from hypothesis import assume, given
from hypothesis import strategies as st

from sitegen.core.language.hidden_characters import hidden_at, without_hidden
from sitegen.filing.entries.append import CannotAppendError, appending, with_entry
from sitegen.filing.entries.entry_text import text_value
from tests.filing.logs import ENTRY, files

FIELDS = (("height", "about 9 cm"), ("note", "roots white"))
HEAD = "title: A run\n"


def _added(text: str) -> str:
    return with_entry(text.encode(), "day: 9", FIELDS).decode()


ENTRY_TEXT = "  - day: 9\n    height: about 9 cm\n    note: roots white\n"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (
            f"{HEAD}log:\n  - day: 0\n    water: filled\n",
            f"{HEAD}log:\n  - day: 0\n    water: filled\n{ENTRY_TEXT}",
        ),
        (
            f"{HEAD}log:\n- day: 0\n-\n",
            f"{HEAD}log:\n- day: 0\n-\n- day: 9\n  height: about 9 cm\n  note: roots white\n",
        ),
        (
            f"{HEAD}log:\n  - day: 0\n    water: filled",
            f"{HEAD}log:\n  - day: 0\n    water: filled\n{ENTRY_TEXT}",
        ),
        (
            "log:\n- day: 0\n  water: filled\n",
            "log:\n- day: 0\n  water: filled\n- day: 9\n  height: about 9 cm\n  note: roots white\n",
        ),
        (
            "log:\n-   day: 0\n    water: filled\n",
            "log:\n-   day: 0\n    water: filled\n-   day: 9\n    height: about 9 cm\n    note: roots white\n",
        ),
        (
            "log:\n  -\n    day: 0\nanswer: {why: x}\n",
            f"log:\n  -\n    day: 0\n{ENTRY_TEXT}answer: {{why: x}}\n",
        ),
        (
            "log:\n  - day: 0\n    note: |\n      # no comment\n\n# keys:\n#   water: 2 L\n",
            f"log:\n  - day: 0\n    note: |\n      # no comment\n{ENTRY_TEXT}\n# keys:\n#   water: 2 L\n",
        ),
        (
            "log:\n  - day: 0  # begun\n    # water: 2 L\n\n# keys\n",
            f"log:\n  - day: 0  # begun\n    # water: 2 L\n{ENTRY_TEXT}\n# keys\n",
        ),
        (f"{HEAD}log: []\n", f"{HEAD}log:\n{ENTRY_TEXT}"),
        (f"{HEAD}log: []  # to come\n# keys\n", f"{HEAD}log:  # to come\n{ENTRY_TEXT}# keys\n"),
        (f"{HEAD}log: []", f"{HEAD}log:\n{ENTRY_TEXT}"),
        (f"{HEAD}log:\n", f"{HEAD}log:\n{ENTRY_TEXT}"),
        (f"{HEAD}log:\nanswer: {{why: x}}\n", f"{HEAD}log:\n{ENTRY_TEXT}answer: {{why: x}}\n"),
        (f"{HEAD}log: ~\n", f"{HEAD}log:\n{ENTRY_TEXT}"),
        (HEAD, f"{HEAD}log:\n{ENTRY_TEXT}"),
        ("title: A run", f"{HEAD}log:\n{ENTRY_TEXT}"),
        (f"---\n{HEAD}...\n", f"---\n{HEAD}log:\n{ENTRY_TEXT}...\n"),
        (f"---\n{HEAD}log:\n  - day: 0\n...\n", f"---\n{HEAD}log:\n  - day: 0\n{ENTRY_TEXT}...\n"),
    ],
)
def test_layouts(before: str, after: str) -> None:
    """The entry stands behind the last, as that is laid out; a log without entries gets its first."""
    assert _added(before) == after


def test_line_ends_and_the_mark_of_bytes_stay() -> None:
    """A file from another system keeps its line ends, and the entry has them too."""
    before = b"\xef\xbb\xbflog:\r\n  - day: 0\r\n"

    assert with_entry(before, "day: 9", FIELDS[:1]) == before + b"  - day: 9\r\n    height: about 9 cm\r\n"


@pytest.mark.parametrize(
    ("text", "message", "line"),
    [
        (
            f"{HEAD}log: [{{day: 0}}]\n",
            "the log stands in brackets, where nothing can be added without rewriting it",
            2,
        ),
        (f"{HEAD}log: later\n", "`log` holds no entries", 2),
        ("{title: A run}\n", "the file stands in braces", 1),
        ("- a\n", "the file is not a list of keys", 1),
        ("title: [\n", "the file cannot be read as YAML", 2),
        ("", "the file is not a list of keys", 1),
    ],
)
def test_what_cannot_be_added_to(text: str, message: str, line: int) -> None:
    """A log in brackets, or a file that is none, is refused with its line."""
    with pytest.raises(CannotAppendError) as refused:
        with_entry(text.encode(), "day: 9", FIELDS)

    assert (refused.value.message, refused.value.line) == (message, line)


def test_a_file_that_is_not_utf8_is_refused() -> None:
    """The line of the byte is named."""
    with pytest.raises(CannotAppendError, match="not UTF-8") as refused:
        with_entry(b"title: x\nnote: \xff\n", "day: 9", FIELDS)

    assert refused.value.line == 2


def _log(content: bytes) -> list[Any]:
    return _value(content.decode("utf-8-sig")).get("log") or []


@given(files(), ENTRY)
def test_any_log(content: bytes, fields: list[tuple[str, str]]) -> None:
    """One entry more is read, all others as before; without the change the file is what it was, byte for byte."""
    change = appending(content, "day: 9", fields)
    after = change.made(content)

    head, tail = content[: change.offset], content[change.offset + len(change.removed) :]
    assert after == head + change.inserted + tail
    assert change.removed.strip() in (b"", b"[]", b"~") or change.removed.strip().startswith(b"[]  #")
    ended = content if content.endswith(b"\n") else content + b"\n"  # a last line gets its end
    before = [] if _log(ended) in ("", "~") else _log(ended)
    assert _log(after) == [*before, {"day": "9", **{k: _value(v) for k, v in fields}}]
    assert content.count(b"\r\n") == 0 or after.count(b"\n") == after.count(b"\r\n")


@given(files(), ENTRY, st.data())
def test_before_any_entry(content: bytes, fields: list[tuple[str, str]], data: st.DataObject) -> None:
    """One entry more is read right before the one that begins on the line; the others are as they were."""
    root = yaml.compose(content.decode("utf-8-sig"), Loader=yaml.BaseLoader)
    log = next((value for key, value in root.value if key.value == "log"), None)
    entries = log.value if isinstance(log, yaml.SequenceNode) else []
    assume(entries)
    place = data.draw(st.integers(0, len(entries) - 1))
    before = _log(content)

    after = appending(content, "day: 9", fields, before=entries[place].start_mark.line + 1).made(content)

    new = {"day": "9", **{k: _value(v) for k, v in fields}}
    assert _log(after) == [*before[:place], new, *before[place:]]


def test_a_remark_stays_above_its_entry() -> None:
    """A remark as far in as the hyphen is of the entry below it, one further in of the entry above."""
    before = "log:\n  - day: 0\n    # of day 0\n  # of day 20\n  - day: 20\n"

    after = appending(before.encode(), "day: 9", FIELDS, before=5).made(before.encode()).decode()

    assert after == f"log:\n  - day: 0\n    # of day 0\n{ENTRY_TEXT}  # of day 20\n  - day: 20\n"


def _value(text: str) -> Any:
    return yaml.load(text, Loader=yaml.BaseLoader)  # noqa: S506 - the safest loader: all is text


@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=30), st.booleans())
def test_any_text_is_a_value(text: str, braced: bool) -> None:
    """A text as a value is read as the same text, in braces too, without the characters that no file may hold."""
    value = text_value(text, braced=braced)
    written = f"{{note: {value}, day: 1}}" if braced else f"note: {value}\nday: 1"

    assert _value(written) == {"note": without_hidden(text), "day": "1"}
    assert hidden_at(_value(written)["note"]) is None


def test_a_log_in_utf16_is_refused() -> None:
    """A log in UTF-16 is told by its encoding, with what to do; nothing is made of it."""
    with pytest.raises(CannotAppendError) as refused:
        appending("format: 1\nlog: []\n".encode("utf-16"), "day: 3", [("note", "up")])
    assert (refused.value.message, refused.value.mend) == (
        "the file is UTF-16 text, which is read, but not added to",
        "save the file as UTF-8, in an editor or by `iconv -f UTF-16 -t UTF-8`",
    )
