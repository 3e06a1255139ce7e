"""Where the preview listens."""

from __future__ import annotations

import socket
from contextlib import closing
from pathlib import Path

import click
import pytest

from sitegen.app.live.network import NETWORK
from sitegen.app.live.network.guard import LOCAL_NAMES
from sitegen.app.live.network.listen import Place, listen, warning


def silent(_line: str) -> None:
    """Say nothing."""


class Link:
    """A socket that says from which address it would send, and sends nothing."""

    own = "127.0.0.3"  # another address of this machine

    def __init__(self, *_: object) -> None: ...

    def __enter__(self) -> Link:
        return self

    def __exit__(self, *_: object) -> None: ...

    def connect(self, _place: tuple[str, int]) -> None:
        """A way leads out, where it has an address."""
        if not self.own:
            raise OSError

    def getsockname(self) -> tuple[str, int]:
        """Its address."""
        return self.own, 1


def test_a_taken_port_gives_way_to_the_next_free_one() -> None:
    """A line says which port was asked for, and how to choose another."""
    lines: list[str] = []
    first = listen("127.0.0.1", 0, silent)
    with closing(first.bound):
        port = first.port
        second = listen("127.0.0.1", port, lines.append)
        with closing(second.bound):
            assert second.port > port
            assert second.address == f"http://127.0.0.1:{second.port}/"

    assert lines == [f"port {port} is taken; this is the next that is free, and `--port` chooses another"]


@pytest.mark.parametrize(
    ("host", "bound", "name"),
    [
        ("127.0.0.1", "127.0.0.1", "127.0.0.1"),
        ("LOCALHOST", None, "localhost"),
        ("::1", "::1", "[::1]"),
        ("0:0:0:0:0:0:0:1", "::1", "[::1]"),
    ],
)
def test_an_address_is_what_a_browser_finds_it_by(host: str, bound: str | None, name: str) -> None:
    """An IPv6 address in brackets; a name stays a name."""
    place = listen(host, 0, silent)
    with closing(place.bound):
        found = place.bound.getsockname()[0]
        assert (bound or found, place.address) == (found, f"http://{name}:{place.port}/")
        assert place.is_loopback
        assert place.names >= LOCAL_NAMES


def test_without_an_address_it_is_that_in_the_local_network(monkeypatch: pytest.MonkeyPatch) -> None:
    """The one from which the system would send to others."""
    monkeypatch.setattr("sitegen.app.live.network.listen._ELSEWHERE", ((socket.AF_INET, "192.0.2.1"),))
    monkeypatch.setattr("sitegen.app.live.network.listen.socket.socket", Link)
    monkeypatch.setattr(Link, "own", "203.0.113.5")
    monkeypatch.setattr("sitegen.app.live.network.listen._bound", lambda *asked: asked)
    place = listen(NETWORK, 4180, silent)

    assert place.bound == (socket.AF_INET, "203.0.113.5", 4180)  # type: ignore[comparison-overlap]
    assert place.name == "203.0.113.5"


def test_a_machine_that_is_in_no_network_is_told_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """No way leads out, or only to itself."""
    monkeypatch.setattr("sitegen.app.live.network.listen.socket.socket", Link)
    for own in ("", "127.0.0.1"):
        monkeypatch.setattr(Link, "own", own)
        with pytest.raises(click.UsageError) as refused:
            listen(NETWORK, 0, silent)
        assert refused.value.message == (
            "this machine is in no network; name an address of it with `--host ADDRESS`"
        )


@pytest.mark.parametrize(("host", "name"), [("0.0.0.0", "127.0.0.1"), ("::", "[::1]")])  # noqa: S104 # what is tested
def test_listening_everywhere_is_addressed_as_others_find_it(
    monkeypatch: pytest.MonkeyPatch, host: str, name: str
) -> None:
    """A browser cannot go to an address that stands for all; in no network it is that of the machine itself."""
    monkeypatch.setattr("sitegen.app.live.network.listen._ELSEWHERE", ())
    place = listen(host, 0, silent)
    with closing(place.bound):
        assert place.address == f"http://{name}:{place.port}/"
        assert not place.is_loopback
        assert socket.gethostname().lower() in place.names


@pytest.mark.parametrize(
    ("host", "who"),
    [("127.0.0.1", "on this machine"), ("0.0.0.0", "in the network")],  # noqa: S104 # as above
)
def test_the_warning_says_who_sees_what_and_how_it_ends(host: str, who: str) -> None:
    """Drafts too, by whoever has the address; nothing can be changed; it ends with the command."""
    told = Place(_Named(host), host)  # type: ignore[arg-type]

    assert warning(told) == (
        f"Everyone {who} who has this address sees these pages, drafts and experiments held back included, until this"
        " command ends. Nobody can change anything. At the next start the address is another."
    )


class _Named:
    """A socket that has a name."""

    def __init__(self, name: str) -> None:
        self._name = name

    def getsockname(self) -> tuple[str, int]:
        """That name."""
        return self._name, 4180


def test_an_address_of_another_machine_is_refused() -> None:
    """192.0.2.7 is kept for examples (RFC 5737): no machine has it."""
    with pytest.raises(
        click.UsageError, match=r"cannot listen at `192\.0\.2\.7`: Cannot assign requested address"
    ):
        listen("192.0.2.7", 0, silent)


def test_a_folder_is_no_address(tmp_path: Path) -> None:
    """The journal behind `--host` is taken for its value: the message says where it goes."""
    with pytest.raises(click.UsageError) as refused:
        listen(str(tmp_path), 0, silent)

    assert refused.value.message == (
        f"`{tmp_path}` is no address of this machine; write the journal before `--host`"
    )


def test_an_address_that_browsers_cannot_open_is_refused() -> None:
    """That of a link, with a zone: no browser takes the `%` (RFC 6874 is not followed)."""
    with pytest.raises(click.UsageError) as refused:
        listen("fe80::1%lo", 0, silent)

    assert refused.value.message == "browsers cannot open `fe80::1%lo`: name an address without `%`"


def test_where_every_port_is_taken_another_is_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """The ports that were tried are named."""
    monkeypatch.setattr("sitegen.app.live.network.listen.TRIES", 1)
    first = listen("127.0.0.1", 0, silent)
    with (
        closing(first.bound),
        pytest.raises(
            click.UsageError,
            match=f"the ports {first.port} to {first.port} are taken; name another with `--port`",
        ),
    ):
        listen("127.0.0.1", first.port, silent)
