"""Where the server listens.

In: a host and a port. Out: a bound socket, and the address at which a browser on this machine finds it.
"""

from __future__ import annotations

import errno
import ipaddress
import os
import socket
from collections.abc import Callable

import click

TRIES = 20


def listen(host: str, port: int, say: Callable[[str], None]) -> tuple[socket.socket, str]:
    """The first free port from `port` on; 0 takes any. UsageError where there is none, or no such address here."""
    family, name = _resolved(host)
    for candidate in range(port, min(port + TRIES, 65536)):
        bound = _bound(family, name, candidate)
        if bound is not None:
            if candidate != port:
                say(f"port {port} is taken; this is the next that is free")
            if not is_loopback(host):
                say(warning(host))
            return bound, _address(host, bound.getsockname()[1])
    raise click.UsageError(f"the ports {port} to {candidate} are taken; name another with `--port`")


def _resolved(host: str) -> tuple[socket.AddressFamily, str]:
    try:
        family, _, _, _, place = socket.getaddrinfo(host, None, type=socket.SOCK_STREAM)[0]
    except (OSError, UnicodeError) as error:
        raise click.UsageError(f"`{host}` is no address of this machine") from error
    return family, str(place[0])


def _bound(family: socket.AddressFamily, name: str, port: int) -> socket.socket | None:
    """A bound socket; None where the port is taken."""
    try:
        return socket.create_server((name, port), family=family)
    except OSError as error:
        if error.errno in (errno.EADDRINUSE, errno.EACCES):
            return None
        raise click.UsageError(f"cannot listen at `{name}`: {os.strerror(error.errno or 0)}") from error


def _address(host: str, port: int) -> str:
    """`http://127.0.0.1:4180/`; where it listens everywhere, this machine's own address."""
    try:
        found = ipaddress.ip_address(host)
    except ValueError:
        return f"http://{host}:{port}/"
    if found.is_unspecified:
        return f"http://127.0.0.1:{port}/" if found.version == 4 else f"http://[::1]:{port}/"
    return f"http://[{host}]:{port}/" if found.version == 6 else f"http://{host}:{port}/"


def is_loopback(host: str) -> bool:
    """Whether only this machine can reach an address."""
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host.lower() == "localhost"


def warning(host: str) -> str:
    """What listening beyond this machine means."""
    return (
        f"listening at {host}: everyone who can reach this machine there can read these pages, drafts and experiments"
        " held back included. They can change nothing. Leave out `--host` to keep it to this machine."
    )
