"""The address on the terminal, read back by a decoder that is not ours."""

from __future__ import annotations

import io
import os
import re
import socket

import pytest
import zxingcpp
from PIL import Image

from sitegen.app.live import session
from sitegen.app.live.network import qr
from sitegen.app.live.network.key import Key
from sitegen.app.live.network.listen import Place, warning
from sitegen.app.live.network.qr import qr_lines

ADDRESS = "http://192.0.2.123:4180/?key=AZaz09-_AZaz09-_AZaz09"
DARK = {" ": (0, 0), "▀": (1, 0), "▄": (0, 1), "█": (1, 1)}
ESCAPES = re.compile("\x1b\\[[0-9;]*m")


class Terminal(io.StringIO):
    """A terminal of an encoding."""

    def __init__(self, encoding: str = "utf-8", *, real: bool = True) -> None:
        super().__init__()
        self._encoding, self._real = encoding, real

    @property
    def encoding(self) -> str:  # type: ignore[override]
        """How it takes signs."""
        return self._encoding

    def isatty(self) -> bool:
        """Whether it is one."""
        return self._real


@pytest.fixture(autouse=True)
def terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """A terminal with colours, wide enough."""
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setattr(qr.shutil, "get_terminal_size", lambda: os.terminal_size((100, 50)))


def read(modules: list[list[int]], *, as_it_is: bool = True) -> list[str]:
    """What a decoder reads off a picture of dark (1) and light modules, eight pixels each."""
    picture = Image.new("L", (len(modules[0]), len(modules)))
    picture.putdata([0 if dark else 255 for row in modules for dark in row])
    large = picture.resize((picture.width * 8, picture.height * 8), Image.Resampling.NEAREST)
    return [found.text for found in zxingcpp.read_barcodes(large, try_invert=not as_it_is)]


def halves(lines: list[str]) -> list[list[int]]:
    """The modules of lines of half blocks: 1 is drawn in the colour of the text."""
    bare = [ESCAPES.sub("", line) for line in lines]
    return [[DARK[sign][half] for sign in line] for line in bare for half in (0, 1)]


def test_a_picture_of_half_blocks_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    """Black on white, whatever the colours of the terminal are; each line ends its colours."""
    lines = qr_lines(ADDRESS, Terminal())

    assert read(halves(lines)) == [ADDRESS]
    assert all(line.startswith("\x1b[30;107m") and line.endswith("\x1b[0m") for line in lines)


def test_a_picture_without_colours_is_read_where_text_is_light(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is light is drawn: right on a dark terminal; on a light one it is the reverse, which readers take."""
    monkeypatch.setenv("NO_COLOR", "1")
    lines = qr_lines(ADDRESS, Terminal())
    drawn = halves(lines)

    assert "\x1b" not in "".join(lines)
    assert read([[1 - light for light in row] for row in drawn]) == [ADDRESS]
    assert read(drawn, as_it_is=False) == [ADDRESS]


def test_a_picture_of_coloured_spaces_is_read() -> None:
    """Where no blocks can be written: nothing but spaces and escapes."""
    lines = qr_lines(ADDRESS, Terminal("ascii"))
    found = [
        [int(code == "40") for code, spaces in re.findall("\x1b\\[(40|107)m( +)", line)] for line in lines
    ]

    assert "".join(lines).isascii()
    assert read(found) == [ADDRESS]


@pytest.mark.parametrize(
    ("stream", "environment"),
    [
        (Terminal(real=False), {}),
        (Terminal(), {"TERM": "dumb"}),
        (Terminal("ascii"), {"NO_COLOR": "1"}),
        (Terminal("latin-1"), {"NO_COLOR": "1"}),
    ],
    ids=["file", "dumb", "ascii without colours", "latin-1 without colours"],
)
def test_where_it_cannot_be_shown_there_is_none(
    monkeypatch: pytest.MonkeyPatch, stream: Terminal, environment: dict[str, str]
) -> None:
    """The address in words stands there in any case."""
    for name, value in environment.items():
        monkeypatch.setenv(name, value)

    assert qr_lines(ADDRESS, stream) == []


@pytest.mark.parametrize(("columns", "rows", "shown"), [(42, 22, True), (41, 22, False), (42, 21, False)])
def test_a_terminal_without_room_shows_none(
    monkeypatch: pytest.MonkeyPatch, columns: int, rows: int, *, shown: bool
) -> None:
    """54 bytes need version 4 (ISO/IEC 18004, table 7: 53 fit into 3): 33 modules, and 4 of border on each side."""
    monkeypatch.setattr(qr.shutil, "get_terminal_size", lambda: os.terminal_size((columns, rows)))

    assert bool(qr_lines(f"{ADDRESS}abc", Terminal())) is shown


def test_the_address_is_said_in_words_everywhere(capsys: pytest.CaptureFixture[str]) -> None:
    """Address, how it ends, who sees what; without a key nothing more than the address."""
    lines: list[str] = []
    with socket.create_server(("127.0.0.1", 0)) as bound:
        place = Place(bound, "127.0.0.1")
        session.introduce("bench", place, Key(place.port, "KEY"), lines.append)
        session.introduce("bench", place, None, lines.append)
        address, warned = place.address, warning(place)

    assert lines == [
        f"{address}?key=KEY shows bench while you write; Ctrl-C ends it",
        warned,
        f"{address} shows bench while you write; Ctrl-C ends it",
    ]
