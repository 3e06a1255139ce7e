"""No command speaks to another machine, or looks for one.

In: a small journal; the interpreter's audit hooks. A hook stays for the life of the process, so it listens on demand.
"""

from __future__ import annotations

import socket
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from tests.platforms.tour import small_journal, tour

# Docs: "Audit events table" of the Python documentation.
NETWORK = {
    "ftplib.connect",
    "http.client.connect",
    "smtplib.connect",
    "socket.bind",
    "socket.connect",
    "socket.getaddrinfo",
    "socket.gethostbyaddr",
    "socket.gethostbyname",
    "socket.gethostname",
    "socket.getnameinfo",
    "socket.sendmsg",
    "socket.sendto",
    "urllib.Request",
    "webbrowser.open",
}
_listening: list[list[tuple[str, tuple[Any, ...]]]] = []


def _hear(event: str, arguments: tuple[Any, ...]) -> None:
    if event in NETWORK:
        for heard in _listening:
            heard.append((event, arguments))


@contextmanager
def _heard() -> Iterator[list[tuple[str, tuple[Any, ...]]]]:
    """The events of the network while it is open."""
    if not getattr(sys, "_network_is_heard", False):
        sys.addaudithook(_hear)
        sys._network_is_heard = True  # type: ignore[attr-defined]
    _listening.append([])
    try:
        yield _listening[-1]
    finally:
        _listening.pop()


def test_no_command_uses_the_network(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Checking, writing, computing, drafting and logging, with nothing known from before."""
    monkeypatch.setenv("SITEGEN_CACHE", str(tmp_path / "cache"))
    journal = small_journal(tmp_path / "bench")
    with _heard() as events:
        statuses = tour(str(journal), str(tmp_path / "site"), str(tmp_path / "notes.md"))

    assert (set(statuses), events) == ({0}, []), capsys.readouterr().err


def test_the_network_would_be_heard() -> None:
    """What is listened to is what the interpreter reports."""
    with _heard() as events, socket.socket() as sender, pytest.raises(OSError, match="refused"):
        sender.connect(("127.0.0.1", 1))

    assert [event for event, _ in events] == ["socket.connect"]
