"""The last good pages, and what a rebuild makes of them. Builds are scripted."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from sitegen.app.live.rebuild import Build, Rebuilder, rebuilt_line
from sitegen.core.finding import Finding, Source
from sitegen.core.page import HTML, Page
from sitegen.pipeline.previewing import Preview

ROOT = Path("nowhere")
ERROR = Finding(
    "bad-template", Source("look/templates/text.html"), "the template cannot be filled", "mend it"
)
WARNING = Finding("stray-file", Source("gaer.yaml"), "nothing reads `gaer.yaml`")
ERROR_TEXT = """\
error[bad-template]: the template cannot be filled
 --> look/templates/text.html:1:1
help: mend it

1 error in 1 file
"""


def pages(**bodies: str) -> dict[str, Page]:
    """Pages by address."""
    return {f"{name}.html": Page(f"{name}.html", HTML, body) for name, body in bodies.items()}


def scripted(*outcomes: Preview | Exception) -> Build:
    """A build that gives these, one after another."""
    coming = iter(outcomes)

    def build(_last: Preview) -> Preview:
        outcome = next(coming)
        if isinstance(outcome, Exception):
            raise outcome
        return outcome

    return build


def ticking() -> Iterator[float]:
    """A clock by which each rebuild takes a quarter of a second."""
    now = 0.0
    while True:
        yield now
        now += 0.25


def rebuilder(*outcomes: Preview | Exception) -> Rebuilder:
    """A rebuilder with scripted builds and a scripted clock."""
    clock = ticking()
    return Rebuilder(scripted(*outcomes), ROOT, lambda: next(clock))


def bodies(shown: Iterable[Page]) -> dict[str, bytes]:
    """What stands at each address."""
    return {page.address: page.content for page in shown}


def test_an_error_leaves_the_last_good_pages_and_says_what_validate_says() -> None:
    """A page that cannot be made stays as it was; the others are new; the text is the report's, errors only."""
    made = rebuilder(Preview(pages(a="1", b="1")), Preview(pages(a="2"), (ERROR, WARNING)))
    made.rebuild([])
    rebuilt = made.rebuild(["look/templates/text.html"])

    assert bodies(rebuilt.shown.pages.values()) == {"a.html": b"2", "b.html": b"1"}
    assert rebuilt.shown.trouble == ERROR_TEXT
    assert rebuilt.changed == 1


def test_a_mended_error_goes() -> None:
    """Without errors there are the new pages, no others, and no trouble."""
    made = rebuilder(Preview(pages(a="1", b="1")), Preview({}, (ERROR,)), Preview(pages(a="3"), (WARNING,)))
    shown = [made.rebuild([]).shown for _ in range(3)]

    assert [bodies(each.pages.values()) for each in shown] == [
        {"a.html": b"1", "b.html": b"1"},
        {"a.html": b"1", "b.html": b"1"},
        {"a.html": b"3"},
    ]
    assert [each.trouble for each in shown] == ["", ERROR_TEXT, ""]
    assert [each.serial for each in shown] == [1, 2, 3]


def test_what_was_sound_last_is_handed_to_the_next_build() -> None:
    """A journal that could not be read at all does not make the rebuilder forget."""
    first = Preview(pages(a="1"), unpublished=frozenset({"a.html"}))
    given: list[Preview] = []
    outcomes = iter([first, Preview(findings=(ERROR,)), first])

    def build(last: Preview) -> Preview:
        given.append(last)
        return next(outcomes)

    made = Rebuilder(build, ROOT, lambda: 0.0)
    shown = [made.rebuild([]).shown for _ in range(3)]

    assert given == [Preview(), first, first]
    assert [each.unpublished for each in shown] == [frozenset({"a.html"})] * 3


def test_a_fault_of_ours_is_shown_and_the_preview_goes_on() -> None:
    """An exception says whose fault it is, and the next build is made as ever."""
    made = rebuilder(Preview(pages(a="1")), RuntimeError("odd"), Preview(pages(a="2")))
    made.rebuild([])
    faulty = made.rebuild([])
    mended = made.rebuild([])

    assert faulty.shown.trouble.startswith("This is a fault of sitegen, not of the journal.")
    assert faulty.shown.trouble.endswith("RuntimeError: odd\n")
    assert bodies(faulty.shown.pages.values()) == {"a.html": b"1"}
    assert bodies(mended.shown.pages.values()) == {"a.html": b"2"}
    assert mended.shown.trouble == ""


def test_each_rebuild_is_one_line() -> None:
    """What changed, how much came of it, how long it took, what is wrong."""
    made = rebuilder(Preview(pages(a="1", b="1")), Preview(pages(a="2", b="1")), Preview(findings=(ERROR,)))
    lines = [
        rebuilt_line(files, made.rebuild(files))
        for files in ([], ["about.md"], ["seasons/one/leaf/recap.md", "gear.yaml"])
    ]

    assert lines == [
        "everything: 2 files of the site in 250 ms",
        "about.md: 1 file of the site in 250 ms",
        "gear.yaml and 1 more: 0 files of the site in 250 ms; 1 error in 1 file",
    ]


def test_the_page_worked_on_is_known() -> None:
    """A file that was edited leads to its page, by the journal as it is now."""
    made = rebuilder(Preview(pages(about="1"), page_of={"about.md": "about.html"}))

    assert made.rebuild(["about.md"]).shown.edited == "about.html"
