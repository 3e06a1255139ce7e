"""Where the server listens.

In: a host and a port. Out: `Place`: a bound socket, the names that it answers to, the address at which browsers find it.
"""

from __future__ import annotations

import errno
import ipaddress
import os
import socket
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import click

from sitegen.app.live.network import NETWORK
from sitegen.app.live.network.guard import LOCAL_NAMES

LOOPBACK = "127.0.0.1"
TRIES = 20
# Kept for examples (RFC 5737, RFC 3849). Nothing is sent there: the system is asked from which of its addresses it would.
_ELSEWHERE = ((socket.AF_INET, "192.0.2.1"), (socket.AF_INET6, "2001:db8::1"))


@dataclass(frozen=True, slots=True)
class Place:
    """A bound socket; `name` is what stands in the address of a page."""

    bound: socket.socket
    name: str

    @property
    def port(self) -> int:
        """The port that it got."""
        return int(self.bound.getsockname()[1])

    @property
    def address(self) -> str:
        """`http://127.0.0.1:4180/`."""
        return f"http://{f'[{self.name}]' if ':' in self.name else self.name}:{self.port}/"

    @property
    def is_loopback(self) -> bool:
        """Whether only this machine can reach it."""
        return ipaddress.ip_address(self.bound.getsockname()[0]).is_loopback

    @property
    def names(self) -> frozenset[str]:
        """The names that it answers to, beside the address that was asked."""
        machine = socket.gethostname().lower()
        others = set() if self.is_loopback else {machine, f"{machine}.local"}
        return LOCAL_NAMES | {self.name} | others


def listen(host: str, port: int, say: Callable[[str], None]) -> Place:
    """The first free port from `port` on; 0 takes any. UsageError where there is none, or no such address here."""
    host = _own_address() if host == NETWORK else host
    family, name = _resolved(host)
    for candidate in range(port, min(port + TRIES, 65536)):
        bound = _bound(family, name, candidate)
        if bound is not None:
            if candidate != port:
                say(f"port {port} is taken; this is the next that is free, and `--port` chooses another")
            return Place(bound, _shown(host, name))
    raise click.UsageError(f"the ports {port} to {candidate} are taken; name another with `--port`")


def _own_address(wanted: socket.AddressFamily | None = None) -> str:
    """The address of this machine in the local network."""
    for family, elsewhere in _ELSEWHERE:
        try:
            with socket.socket(family, socket.SOCK_DGRAM) as link:
                link.connect((elsewhere, 9))
                found = str(link.getsockname()[0])
        except OSError:  # no way leads out of this machine
            continue
        if wanted in (None, family) and not ipaddress.ip_address(found).is_loopback:
            return found
    raise click.UsageError("this machine is in no network; name an address of it with `--host ADDRESS`")


def _resolved(host: str) -> tuple[socket.AddressFamily, str]:
    try:
        family, _, _, _, place = socket.getaddrinfo(host, None, type=socket.SOCK_STREAM)[0]
    except (OSError, UnicodeError) as error:
        # What follows an option is its value.
        aside = "; write the journal before `--host`" if Path(host).is_dir() else ""
        raise click.UsageError(f"`{host}` is no address of this machine{aside}") from error
    if any(place[2:]):  # the zone of an IPv6 address
        raise click.UsageError(f"browsers cannot open `{host}`: name an address without `%`")
    return family, str(place[0])


def _bound(family: socket.AddressFamily, name: str, port: int) -> socket.socket | None:
    """A bound socket; None where the port is taken."""
    try:
        return socket.create_server((name, port), family=family)
    except OSError as error:
        if error.errno in (errno.EADDRINUSE, errno.EACCES):
            return None
        raise click.UsageError(f"cannot listen at `{name}`: {os.strerror(error.errno or 0)}") from error


def _shown(host: str, name: str) -> str:
    """What a browser is told; where it listens everywhere, the address that others find."""
    found = ipaddress.ip_address(name)
    if not found.is_unspecified:
        return str(found) if _is_address(host) else host.lower()
    try:
        return _own_address(socket.AF_INET if found.version == 4 else socket.AF_INET6)
    except click.UsageError:
        return LOOPBACK if found.version == 4 else "::1"


def _is_address(host: str) -> bool:
    try:
        ipaddress.ip_address(host)
    except ValueError:
        return False
    return True


def warning(place: Place) -> str:
    """Who sees what, and how it ends."""
    who = "on this machine" if place.is_loopback else "in the network"
    return (
        f"Everyone {who} who has this address sees these pages, drafts and experiments held back included, until this"
        " command ends. Nobody can change anything. At the next start the address is another."
    )
