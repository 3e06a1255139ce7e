"""Texts that look like the end of what they stand in: on no page of a site they become markup."""

from __future__ import annotations

import datetime as dt
import json
import re
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree as Xml

import pytest

from sitegen.app.main import status_of
from tests.canaries.journal import make_secrets
from tests.pages import parse

HOSTILE = (
    "</script></style></title></textarea></template><script>mark(1)</script><svg onload=mark(1)><mark-up a=b>"
    "\"'><!-- --> <![CDATA[ ]]> \u2028 &lt;mark-up&gt;"
)
_H = "{http://www.w3.org/1999/xhtml}"
_WHOLE_VALUE = r"(?<=: ){}(?=[,}}\]]|$)"
TODAY = dt.date(2026, 11, 28)


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, int]:
    """A site in whose every published text the hostile one stands, and in how many places it was put."""
    secrets = make_secrets(tmp_path_factory.mktemp("markup"))
    places = 0
    for path in secrets.root.rglob("*"):
        if path.suffix not in (".yaml", ".md"):
            continue
        text = path.read_text("utf-8")
        for control in secrets.planted.controls:
            if path.suffix == ".md":
                text, count = (
                    text.replace(control.mark, f"{HOSTILE} {control.mark}"),
                    text.count(control.mark),
                )
            else:
                written = json.dumps(f"{control.mark} {HOSTILE} {{{{ 7*7 }}}}", ensure_ascii=False)
                pattern = re.compile(_WHOLE_VALUE.format(control.mark), re.MULTILINE)
                text, count = pattern.subn(lambda _, written=written: written, text)  # type: ignore[misc]
            places += count
        path.write_text(text, "utf-8")
    assert status_of(["write", str(secrets.root), "-o", str(secrets.output), "--today", str(TODAY)]) == 0
    return secrets.output, places


def test_it_stands_in_many_places(site: tuple[Path, int]) -> None:
    """The text was put into most of what authors write, and comes out on pages, in data and in feeds."""
    output, places = site
    kinds = {
        path.suffix
        for path in output.rglob("*")
        if path.is_file() and "mark(1)" in path.read_text("utf-8", "replace")
    }

    assert places >= FEWEST
    assert kinds >= {".html", ".json", ".xml", ".csv"}


def test_pages(site: tuple[Path, int]) -> None:
    """No element and no attribute of a page came of a text, and scripts of data are data."""
    output, _ = site
    scripts = 0
    for path in output.rglob("*.html"):
        for node in parse(path).iter():
            assert node.tag != f"{_H}mark-up", path
            assert not [name for name in node.attrib if str(name).startswith("on")], path
            if node.tag == f"{_H}script" and not node.get("type"):
                assert "mark(1)" not in (node.text or ""), path
            elif node.tag == f"{_H}script":
                scripts += 1
                text = node.text or ""
                assert str(node.get("type")).endswith("json"), path
                assert json.loads(text) is not None
                assert not set(text) & {"<", "\u2028", "\u2029"}, path
    assert scripts > 0


def test_feeds_and_drawings(site: tuple[Path, int]) -> None:
    """Every feed, map and drawing is XML, without an element of a text; HTML in a feed is as safe as on a page."""
    output, _ = site
    found = list(_of_kinds(output, ".xml", ".svg"))
    for path in found:
        for node in Xml.parse(path).iter():  # noqa: S314 - of our own writing
            assert str(node.tag).rpartition("}")[2] not in ("script", "mark-up"), path
            assert not [name for name in node.attrib if name.startswith("on")], path
            if node.get("type") == "html":
                assert not re.search(r"<(?:script|svg|mark-up)\b", node.text or ""), path
    assert {path.suffix for path in found} == {".xml", ".svg"}


def test_data(site: tuple[Path, int]) -> None:
    """Every file of data is JSON."""
    output, _ = site
    assert [json.loads(path.read_text("utf-8")) for path in _of_kinds(output, ".json")]


def _of_kinds(output: Path, *kinds: str) -> Iterator[Path]:
    return (path for path in sorted(output.rglob("*")) if path.suffix in kinds)


FEWEST = 30
