"""What lists show of an experiment, as it is kept."""

from __future__ import annotations

import json
from dataclasses import replace

from sitegen.core.records.codec import codec_for
from sitegen.core.records.rows import Run
from sitegen.render.pages.summary import RunSummary, summary_of
from tests.render.builders import facts, full_run, started_run

CODEC = codec_for(RunSummary)


def kept(run: Run) -> str:
    """The summary of a run as text."""
    return json.dumps(CODEC.encode(summary_of(facts(run))))


def test_a_brief_is_data() -> None:
    """Written as JSON and read again it is the same."""
    for run in (full_run("See [that](that)."), started_run()):
        assert CODEC.decode(json.loads(kept(run))) == summary_of(facts(run))


def test_lines_that_move_leave_a_brief_as_it_is() -> None:
    """A line more above everything changes no list."""
    run = full_run()
    picks = tuple(replace(p, source=p.source._replace(line=p.source.line + 1)) for p in run.rows.picks)

    assert kept(replace(run, rows=replace(run.rows, picks=picks))) == kept(run)
