"""Where the preview listens."""

from __future__ import annotations

import click
import pytest

from sitegen.app.live.listen import is_loopback, listen, warning


def silent(_line: str) -> None:
    """Say nothing."""


def test_a_taken_port_gives_way_to_the_next_free_one() -> None:
    """A line says which port was asked for."""
    lines: list[str] = []
    first, _ = listen("127.0.0.1", 0, lines.append)
    port = first.getsockname()[1]
    second, address = listen("127.0.0.1", port, lines.append)
    other = second.getsockname()[1]
    first.close()
    second.close()

    assert other > port
    assert address == f"http://127.0.0.1:{other}/"
    assert lines == [f"port {port} is taken; this is the next that is free"]


def test_only_this_machine_is_listened_to() -> None:
    """The socket is bound to the loopback address."""
    bound, _ = listen("127.0.0.1", 0, silent)
    name = bound.getsockname()[0]
    bound.close()

    assert name == "127.0.0.1"


@pytest.mark.parametrize(
    ("host", "expected"),
    [
        ("127.0.0.1", True),
        ("127.8.9.1", True),
        ("::1", True),
        ("LOCALHOST", True),
        ("0.0.0.0", False),  # noqa: S104 # what must be warned of
        ("::", False),
        ("192.0.2.7", False),
        ("bench.example", False),
    ],
)
def test_what_lies_beyond_this_machine_is_known(host: str, *, expected: bool) -> None:
    """Only loopback addresses, and the name that always leads to them."""
    assert is_loopback(host) is expected


def test_listening_everywhere_is_addressed_from_here() -> None:
    """A browser cannot go to an address that stands for all; whoever can read the pages is warned of."""
    lines: list[str] = []
    bound, address = listen("0.0.0.0", 0, lines.append)  # noqa: S104 # what is tested
    port = bound.getsockname()[1]
    bound.close()

    assert address == f"http://127.0.0.1:{port}/"
    assert lines == [warning("0.0.0.0")]  # noqa: S104 # as above


def test_the_warning_says_what_it_means() -> None:
    """Who can read what, that nothing can be changed, and how to have it otherwise."""
    assert warning("192.0.2.7") == (
        "listening at 192.0.2.7: everyone who can reach this machine there can read these pages, drafts and experiments"
        " held back included. They can change nothing. Leave out `--host` to keep it to this machine."
    )


def test_an_address_of_another_machine_is_refused() -> None:
    """192.0.2.7 is kept for examples (RFC 5737): no machine has it."""
    with pytest.raises(
        click.UsageError, match=r"cannot listen at `192\.0\.2\.7`: Cannot assign requested address"
    ):
        listen("192.0.2.7", 0, silent)


def test_where_every_port_is_taken_another_is_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """The ports that were tried are named."""
    monkeypatch.setattr("sitegen.app.live.listen.TRIES", 1)
    first, _ = listen("127.0.0.1", 0, silent)
    port = first.getsockname()[1]
    with pytest.raises(
        click.UsageError, match=f"the ports {port} to {port} are taken; name another with `--port`"
    ):
        listen("127.0.0.1", port, silent)
    first.close()
