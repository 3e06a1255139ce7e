"""The machine that a site is written on: names of its user, of itself and of folders, each a canary.

In: what was planted, a monkeypatch. Out: an environment of canaries for this process.
"""

from __future__ import annotations

import socket

import pytest

from tests.canaries.journal import Secrets

_VARIABLES = (
    *("USER", "LOGNAME", "USERNAME", "HOSTNAME", "COMPUTERNAME", "EMAIL", "GIT_AUTHOR_NAME"),
    *("GIT_AUTHOR_EMAIL", "GIT_COMMITTER_NAME", "SSH_CONNECTION", "API_TOKEN", "LC_NAME"),
)


def disguise(secrets: Secrets, patch: pytest.MonkeyPatch) -> None:
    """Let this process run as another user on another machine."""
    planted = secrets.planted
    for name in _VARIABLES:
        patch.setenv(name, planted.hide("environment", name))
    host = planted.hide("environment", "host name")
    patch.setattr(socket, "gethostname", lambda: host)
    patch.setattr(socket, "getfqdn", lambda *_: host)
    patch.setenv("HOME", str(secrets.home))
    cache = secrets.home / planted.hide("path", "cache folder")
    patch.setenv("SITEGEN_CACHE", str(cache))
    for name in ("TMPDIR", "TEMP", "TMP"):
        folder = secrets.home / planted.hide("path", f"{name}")
        folder.mkdir(parents=True, exist_ok=True)
        patch.setenv(name, str(folder))
