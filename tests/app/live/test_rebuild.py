"""What is shown after a look, and what is said of it. Looks are scripted."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace
from pathlib import Path
from typing import cast

from sitegen.app.live.rebuild import Rebuilder
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.pipeline.preview import Previewer
from tests.app.live.fixed import FixedSite

ROOT = Path("nowhere")
ERROR = Finding(
    "bad-template", Source("look/templates/text.html"), "the template cannot be filled", "mend it"
)
GAP = Finding("long-gap", Source("e.yaml", 9, 3), "nothing is recorded between day 0 and day 40")
GAP_TEXT = (
    "warning[long-gap]: nothing is recorded between day 0 and day 40\n --> e.yaml:9:3\n\n1 warning in 1 file"
)
ERROR_TEXT = """\
error[bad-template]: the template cannot be filled
 --> look/templates/text.html:1:1
help: mend it

1 error in 1 file
"""


def site(*wrong: Finding, **more: object) -> FixedSite:
    """A site with errors."""
    return FixedSite(wrong=wrong, **more)  # type: ignore[arg-type]


class Scripted:
    """Looks that give these, one after another."""

    def __init__(self, *outcomes: FixedSite | Exception) -> None:
        self._coming = iter(outcomes)
        self._told: tuple[Finding, ...] = ()

    def told_before(self, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
        """The warnings of earlier looks."""
        told = tuple(each for each in findings if each in self._told)
        self._told = tuple(each for each in findings if not each.is_error)
        return told

    def refresh(self, _files: Collection[str]) -> FixedSite:
        """The next."""
        outcome = next(self._coming)
        if isinstance(outcome, Exception):
            raise outcome
        return outcome


def ticking() -> Iterator[float]:
    """A clock by which each look takes a quarter of a second."""
    now = 0.0
    while True:
        yield now
        now += 0.25


def rebuilder(*outcomes: FixedSite | Exception) -> Rebuilder:
    """A rebuilder with scripted looks and a scripted clock."""
    clock = ticking()
    return Rebuilder(cast("Previewer", Scripted(*outcomes)), ROOT, lambda: next(clock))


def test_errors_are_told_as_validate_tells_them_and_go() -> None:
    """The text is the report's; without errors there is none."""
    made = rebuilder(site(), site(ERROR), site())
    versions = []
    for _ in range(3):
        made.rebuild([])
        versions.append(made.version)

    assert [each.problems for each in versions] == ["", ERROR_TEXT, ""]
    assert [each.serial for each in versions] == [1, 2, 3]


def test_a_flood_of_errors_is_cut() -> None:
    """A browser is told the first of them and how many there are theme_folders."""
    errors = tuple(replace(ERROR, source=Source(f"look/templates/{n}.html", 1)) for n in range(1, 30))
    made = rebuilder(site(*errors))
    made.rebuild([])
    trouble = made.version.problems

    assert trouble.count("error[bad-template]") == 25
    assert trouble.endswith("and 4 findings more: `sitegen validate` says them all\n")


def test_places_of_a_flood_of_errors_and_of_a_fault() -> None:
    """Elsewhere the first places are told, and how many more there are; of a fault of ours not its traceback."""
    errors = tuple(
        replace(ERROR, code=code, source=Source("x.html", 1)) for code in ("bad-template", "unknown-key")
    )
    many = tuple(replace(ERROR, message="odd" * n, source=Source("x.html", n)) for n in range(1, 30))
    made = rebuilder(site(*errors), site(*many), RuntimeError("odd"), site())
    places = []
    for _ in range(4):
        made.rebuild([])
        places.append(made.version.places)

    assert places[0] == (
        "error[bad-template] in x.html:1:1\nerror[unknown-key] in x.html:1:1\n"
        "What is wrong is said where `sitegen live` runs.\n"
    )
    assert places[1].splitlines()[-2:] == [
        "and 4 errors more",
        "What is wrong is said where `sitegen live` runs.",
    ]
    assert places[2] == (
        "This is a fault of sitegen, not of the journal. It is printed where `sitegen live` runs.\n"
    )
    assert places[3] == ""


def test_a_fault_of_ours_is_shown_and_the_preview_goes_on() -> None:
    """An exception says whose fault it is, what was shown stays, and the next look is as ever."""
    first = site()
    made = rebuilder(first, RuntimeError("odd"), site())
    made.rebuild([])
    line = made.rebuild([])
    faulty = made.version
    made.rebuild([])

    assert line == "everything: seen after 250 ms; a fault of sitegen: RuntimeError('odd')"
    assert faulty.problems.startswith("This is a fault of sitegen, not of the journal.")
    assert faulty.problems.endswith("RuntimeError: odd\n")
    assert faulty.site == cast("object", first)
    assert made.version.problems == ""


def test_each_look_says_what_is_wrong() -> None:
    """What changed, how long it took, and the errors in full."""
    made = rebuilder(site(), site(), site(ERROR))
    lines = [made.rebuild(files) for files in ([], ["about.md"], ["seasons/one/leaf/recap.md", "gear.yaml"])]

    assert lines == [
        "everything: seen after 250 ms",
        "about.md: seen after 250 ms",
        "gear.yaml and 1 more: seen after 250 ms\n" + ERROR_TEXT.rstrip("\n"),
    ]


def test_an_error_is_told_as_long_as_it_stands_and_a_warning_once() -> None:
    """At the next looks only their errors are said again; a preview that begins says how many warnings stand."""
    made = rebuilder(site(GAP), site(GAP, ERROR), site(GAP, ERROR))
    first, second, third = (made.rebuild([]) for _ in range(3))
    later = rebuilder(site(GAP))
    later._previewer.told_before((GAP,))

    assert first == f"everything: seen after 250 ms\n{GAP_TEXT}"
    assert second == third == "everything: seen after 250 ms\n" + ERROR_TEXT.rstrip("\n")
    assert later.rebuild([]) == "everything: seen after 250 ms\n1 warning told before: sitegen validate"


def test_the_page_worked_on_is_known() -> None:
    """A file that was edited leads to its page, by the journal as it is now."""
    made = rebuilder(site(page_of={"about.md": "about.html"}))

    made.rebuild(["about.md"])

    assert made.version.edited == "about.html"
