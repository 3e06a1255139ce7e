"""Settings for all tests: examples are the same on every machine, nothing is timed, and no cache is anyone's own."""

import gc
import os
import signal
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from types import CodeType

import pytest
from hypothesis import HealthCheck, settings
from jinja2 import Environment

from sitegen.app.main import status_of
from sitegen.core.gc_threshold import raise_gc_threshold

TODAY = date(2026, 11, 28)
DEMO = Path(__file__).parent.parent / "content_demo"

# Collecting cycles takes a tenth of the time of all tests. None are looked for while 12,000 tests are made, and these are
# passed over afterwards.
gc.disable()

# A shell starts what runs in its background with the interrupt ignored (`nohup`: the hang-up), and every process that a
# test starts would inherit that: a test that interrupts one would wait for ever.
if signal.getsignal(signal.SIGINT) == signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)
if signal.getsignal(signal.SIGHUP) == signal.SIG_IGN:
    signal.signal(signal.SIGHUP, signal.SIG_DFL)

# Few examples, always the same ones: for each change. Those who count which changes of meaning tests see want more.
settings.register_profile(
    "thorough", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile("project", settings.get_profile("thorough"), max_examples=25)
# Many, and other ones each time: for a long run on demand.
settings.register_profile("full", settings.get_profile("thorough"), max_examples=1000, derandomize=False)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "project"))


def pytest_collection_finish() -> None:
    """Cycles are collected as in the commands."""
    gc.freeze()
    gc.enable()
    raise_gc_threshold()


@pytest.fixture(scope="session")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of this session, the same in all of its processes."""
    base = tmp_path_factory.getbasetemp()
    folder = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "shared"
    folder.mkdir(exist_ok=True)
    return folder


@pytest.fixture(scope="session")
def demo_site(shared: Path, _own_cache: None) -> Path:
    """The demo site, written once: another process waits for it, and finds nothing changed."""
    out = shared / "demo"
    # In this process alone: the tests' own processes are busy on the other cores.
    assert status_of(["write", str(DEMO), "-o", str(out), "--today", str(TODAY), "--jobs", "1"]) == 0
    return out


@pytest.fixture(scope="session", autouse=True)
def _templates_compiled_once() -> Iterator[None]:
    """The same text of a template is compiled once in this process: half of the time of writing a small journal."""
    known: dict[tuple[object, ...], CodeType] = {}
    original = Environment.compile

    def compiled(environment: Environment, *template: str | None) -> CodeType:
        key = (
            type(environment),
            *template,
        )  # its text, its name, its file: all environments of a kind are alike
        if key not in known:
            known[key] = original(environment, *template)
        return known[key]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Environment, "compile", compiled)
        yield


@pytest.fixture(scope="session", autouse=True)
def _own_cache(shared: Path) -> Iterator[None]:
    """Results made before are kept for this session only; its processes draw each chart once."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SITEGEN_CACHE", str(shared / "cache"))
        yield
