"""The preview asked from another machine: two network namespaces with a cable between them."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from datetime import date
from pathlib import Path

import pytest

from tests.app.live.running import line_with, running
from tests.app.live.test_session import LEAF, LOG
from tests.journal_maker import make_journal

# Kept for examples (RFC 5737).
SERVER, CLIENT = "192.0.2.1", "192.0.2.2"
ASK = """\
import json, sys, urllib.request, urllib.error
opener = urllib.request.build_opener(urllib.request.ProxyHandler({}))
said = []
for address, cookie in json.loads(sys.argv[1]):
    asked = urllib.request.Request(address, headers={"Cookie": cookie} if cookie else {})
    try:
        with opener.open(asked, timeout=20) as found:
            body = found.readline().decode() if not address.endswith("events") else ""
            while address.endswith("events") and not body.startswith("data:"):
                body = found.readline().decode()
            said.append([found.status, body, found.headers.get("Set-Cookie") or ""])
    except urllib.error.HTTPError as error:
        said.append([error.code, error.read().decode(), ""])
    except OSError as error:
        said.append([0, type(error).__name__, ""])
print(json.dumps(said))
"""


def _run(*words: str) -> None:
    subprocess.run(words, check=True, capture_output=True)  # commands of this test


@contextmanager
def _machine() -> Iterator[tuple[str, ...]]:
    """A namespace of its own, as the command that starts others in it."""
    with subprocess.Popen(["unshare", "-n", "sleep", "300"]) as holder:  # where the system has it
        try:
            own = Path(f"/proc/{holder.pid}/ns/net")
            for _ in range(100):
                if own.exists() and own.readlink() != Path("/proc/self/ns/net").readlink():
                    break
                time.sleep(0.02)
            else:
                pytest.skip("this machine makes no network namespaces")
            yield ("nsenter", "-t", str(holder.pid), "-n")
        finally:
            holder.kill()


@pytest.fixture
def machines() -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    """Two machines with a cable between them."""
    if any(shutil.which(name) is None for name in ("unshare", "nsenter", "ip")):
        pytest.skip("this machine has no `unshare`, `nsenter` or `ip`")
    with ExitStack() as stack:
        server, client = (stack.enter_context(_machine()) for _ in range(2))
        try:
            _run(*server, "ip", "link", "add", "cable", "type", "veth", "peer", "cable", "netns", client[2])
            for machine, own in ((server, SERVER), (client, CLIENT)):
                _run(*machine, "ip", "link", "set", "lo", "up")
                _run(*machine, "ip", "address", "add", f"{own}/24", "dev", "cable")
                _run(*machine, "ip", "link", "set", "cable", "up")
        except subprocess.CalledProcessError as error:
            pytest.skip(f"this machine lays no cable between namespaces: {error.stderr!r}")
        yield server, client


def _asked(machine: tuple[str, ...], *questions: tuple[str, str]) -> list[list[object]]:
    """The status, the first line (of a stream the first event) and the cookie that come back, each from a machine."""
    made = subprocess.run(  # as above
        [*machine, sys.executable, "-c", ASK, json.dumps(questions)],
        check=True,
        capture_output=True,
        text=True,
    )
    found: list[list[object]] = json.loads(made.stdout)
    return found


def test_another_machine_needs_the_key(
    tmp_path: Path, machines: tuple[tuple[str, ...], tuple[str, ...]]
) -> None:
    """Without the key no path answers anything; with it pages do, and no event tells what stands in a private note."""
    server, client = machines
    root = make_journal(tmp_path / "bench", {"leaf": LEAF.format(title="Leaf")})
    (root / LOG).write_text(LEAF.format(title="Leaf") + "    private: zqjnote: of nobody else\n", "utf-8")
    with running(root, date(2026, 4, 1), "--port", "0", "--host", SERVER, inside=server) as process:
        address = line_with(process, "http://").split()[0]
        line_with(process, "everything: ")
        bare, _, key = address.partition("?")
        paths = (
            "",
            "index.html",
            "experiments/leaf.html",
            "-/events",
            "-/live.js",
            "feed.xml",
            "../journal.yaml",
        )
        refused = _asked(client, *((bare + path, "") for path in paths))
        wrong = _asked(client, (f"{bare}?{key[:-4]}aaaa", ""), (f"{bare}-/live.js", "sitegen=aaaa"))
        elsewhere = _asked(server, (bare.replace(SERVER, "127.0.0.1"), ""))
        ((_, _, cookie),) = _asked(client, (address, ""))
        event, script = _asked(
            client, *((bare + path, str(cookie).partition(";")[0]) for path in ("-/events", "-/live.js"))
        )

    assert [status for status, _, _ in (*refused, *wrong)] == [403] * 9
    assert len({str(body) for _, body, _ in refused}) == 1
    assert elsewhere == [[0, "URLError", ""]]
    assert (event[0], script[0]) == (200, 200)
    assert json.loads(str(event[1]).removeprefix("data: "))["trouble"] == (
        f"error[yaml-twist] in {LOG}:10:21\nWhat is wrong is said where `sitegen live` runs.\n"
    )
