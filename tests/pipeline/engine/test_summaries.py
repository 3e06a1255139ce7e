"""Kept summaries of runs: a line for each part that other pages read."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from sitegen.ingest import read_journal
from sitegen.measure import for_outlook, run_arms
from sitegen.memo import Memo
from sitegen.pipeline.engine import steps
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.engine.files import Digests, inventory
from sitegen.pipeline.engine.inputs import Inputs
from sitegen.pipeline.engine.snapshot import Settings, theme_of
from sitegen.pipeline.engine.summaries import (
    decoded_arms,
    decoded_earlier,
    decoded_outlook,
    decoded_search,
    decoded_summary,
    earlier_part,
    encoded_summary,
    outlook_part,
    searched_part,
    shown_part,
)
from sitegen.render import earlier_run
from tests.pipeline.bench import TODAY, Site, leaf

PICKED = leaf("Picked").replace("height: 9 cm", "harvest: {P1: {weight: 9 g, part: leaf}}")


@contextmanager
def inputs_of(site: Site, run: str) -> Iterator[Inputs]:
    """What the steps of a run are given."""
    files, _ = read_journal(site.root)
    assert files is not None
    with site.own_cache(), Memo() as memo:
        digests = Digests(site.root, inventory(site.root), memo)
        build = Build(Settings(files, theme_of(files)[0]), digests, memo, TODAY)
        build.check()
        yield Inputs(build.snapshot, run)


def test_each_part_comes_back(tmp_path: Path) -> None:
    """From its own line: the summary, what is searched, what later pages show, what an outlook reads."""
    with inputs_of(Site.of(tmp_path, {"one": PICKED}), "one") as inputs:
        summary, searched = inputs.part(steps.summary), steps.searched(inputs)
        arms = run_arms(inputs.part(steps.facts))
    text = encoded_summary(summary, searched)
    shown, *others = text.split("\n")
    log, part = outlook_part(text)
    compared = decoded_arms(text)
    assert compared is not None

    assert (shown_part(text), searched_part(text), earlier_part(text)) == (shown, *others[:2])
    assert f"{log} {part}" == others[2]
    assert len(others) == 3
    assert decoded_summary(text) == summary
    assert decoded_search(text) == json.loads(json.dumps(searched))
    assert decoded_earlier(text) == earlier_run(summary)
    assert decoded_outlook("log of one", part) == replace(for_outlook(arms), log="log of one")
    assert (log, log in part) == (arms.log, False)
    assert (compared.run, compared.log) == ("one", arms.log)
    assert [(each.yields, each.picked, each.taste) for each in compared.arms] == [((), (), "")]
    assert summary.arms is not None
    assert summary.arms.arms[0].yields != ()


def test_a_run_without_arms_has_no_outlook(tmp_path: Path) -> None:
    """A planned one: what is to be compared is not there yet."""
    planned = PICKED[: PICKED.index("log:")] + "log: []\n"
    with inputs_of(Site.of(tmp_path, {"one": planned}), "one") as inputs:
        summary, searched = inputs.part(steps.summary), steps.searched(inputs)
    text = encoded_summary(replace(summary, arms=None), searched)

    assert (decoded_arms(text), outlook_part(text)) == (None, ("", ""))
    assert decoded_summary(text) == replace(summary, arms=None)
    logless = encoded_summary(summary, searched)
    assert outlook_part(logless) == ("", "")
    assert decoded_summary(logless) == summary


def test_a_run_that_has_no_summary_yet_has_no_part() -> None:
    """Its text is empty, and so is each of them."""
    assert (shown_part(""), searched_part(""), earlier_part(""), outlook_part("")) == ("", "", "", ("", ""))
    assert (shown_part("a\nb"), searched_part("a\nb"), earlier_part("a\nb")) == ("a", "b", "")
    assert outlook_part("a\nb\nc\nlog a part") == ("log", "a part")
