"""Everything that can be found wrong in a journal without drawing: what `validate` says, and `write` before it writes.

In: a `Build`. Out: the same, its findings complete. First every run by itself; then texts, whose links need to know
which runs are published; then the journal's own templates.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from sitegen.core.findings.finding import Finding
from sitegen.core.site.site_map import RunLink
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.engine.page_checks import PAGE


@dataclass(frozen=True, slots=True)
class _Runs:
    """The runs of a journal by whether a reader will find them, as far as they can be linked to."""

    public: tuple[RunLink, ...]
    kept_back: tuple[RunLink, ...]  # public but for their errors, which will be mended
    others: tuple[RunLink, ...]  # drafts, and those to be published later

    @classmethod
    def of(cls, build: Build) -> _Runs:
        checks, today = build.checks.values(), build.snapshot.today
        known = [(check, check.link) for check in checks if check.link is not None]
        return cls(
            tuple(link for check, link in known if check.public(today) and check.sound),
            tuple(link for check, link in known if check.public(today) and not check.sound),
            tuple(link for check, link in known if not check.public(today)),
        )


def check_all(build: Build) -> None:
    """Check every run, every text and every template of notes."""
    build.check()
    runs = _Runs.of(build)
    with_recap = {run for run, files in build.snapshot.runs.items() if files.recap}
    # An error in one run is no error of a link to it.
    build.publish(runs.public, runs.kept_back)
    free = [f"{PAGE}{page.name}" for page in build.snapshot.settings.journal_files.pages]
    build.look_for("texts", [*(link.id for link in runs.public if link.id in with_recap), *free])
    # What is held back may name what will be published with it.
    held_back = [link.id for link in runs.others if link.id in with_recap and build.checks[link.id].sound]
    if held_back:
        build.publish(runs.public, (*runs.kept_back, *runs.others))
        build.look_for("texts", held_back)
    if build.snapshot.settings.has_note_templates:
        build.look_for("notes", [run for run, check in build.checks.items() if check.sound])
    build.publish(runs.public)


def template_findings(build: Build, only: Collection[str] | None = None) -> tuple[Finding, ...]:
    """What is wrong in the journal's own templates, filled for every run, or for some; nothing is drawn or encoded."""
    if not build.snapshot.settings.has_own_templates:
        return ()
    without_pictures = build.without_pictures()
    runs = [run for run, check in build.checks.items() if check.sound and (only is None or run in only)]
    if runs or only is None:
        without_pictures.publish(_Runs.of(build).public)
        without_pictures.summarize()
        without_pictures.look_for("templates", runs)
    if only is None:
        without_pictures.look_at_index()
    return without_pictures.template_findings


def held_back(build: Build) -> list[str]:
    """The runs that have no page yet."""
    return [link.id for link in _Runs.of(build).others]
