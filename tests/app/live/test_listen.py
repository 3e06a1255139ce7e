"""Where the preview listens."""

from __future__ import annotations

import pytest

from sitegen.app.live.listen import CannotListenError, is_loopback, listen, warning


def test_a_taken_port_gives_way_to_the_next_free_one() -> None:
    """The ports that were passed over are told."""
    first = listen("127.0.0.1", 0)
    port = first.socket.getsockname()[1]
    second = listen("127.0.0.1", port)
    first.socket.close()
    second.socket.close()

    assert second.taken[0] == port
    assert second.address == f"http://127.0.0.1:{port + len(second.taken)}/"


def test_only_this_machine_is_listened_to() -> None:
    """The socket is bound to the loopback address."""
    place = listen("127.0.0.1", 0)
    name = place.socket.getsockname()[0]
    place.socket.close()

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
    """A browser cannot go to an address that stands for all."""
    place = listen("0.0.0.0", 0)  # noqa: S104 # what is tested
    port = place.socket.getsockname()[1]
    place.socket.close()

    assert place.address == f"http://127.0.0.1:{port}/"


def test_the_warning_says_what_it_means() -> None:
    """Who can read what, that nothing can be changed, and how to have it otherwise."""
    assert warning("192.0.2.7") == (
        "listening at 192.0.2.7: everyone who can reach this machine there can read these pages, drafts and experiments"
        " held back included. They can change nothing. Leave out `--host` to keep it to this machine."
    )


def test_an_address_of_another_machine_is_refused() -> None:
    """192.0.2.7 is kept for examples (RFC 5737): no machine has it."""
    with pytest.raises(CannotListenError, match=r"cannot listen at `192\.0\.2\.7`"):
        listen("192.0.2.7", 0)
