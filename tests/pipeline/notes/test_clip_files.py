"""Lengths of the files of a run's clips, where they lie beside the journal."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Deed
from sitegen.pipeline.notes import clip_files
from sitegen.pipeline.notes.clip_files import lengths_of_clips
from tests.measure.builders import event, run_of, setup_of


def test_only_what_the_log_does_not_say_is_asked_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Clips without a file or with a length are left alone; a file may lie with the run or with the journal."""
    asked: list[tuple[tuple[Path, ...], list[str]]] = []

    def lengths(folders: tuple[Path, ...], names: list[str]) -> dict[str, int]:
        asked.append((folders, names))
        return {"a.mp4": 12}

    monkeypatch.setattr(clip_files, "clip_lengths", lengths)
    setup = replace(setup_of(), source=Source("seasons/s/run/experiment.yaml"))
    clips = (
        event(Deed.CLIP, 1, file="a.mp4"),
        event(Deed.CLIP, 2, file="b.mp4", length=9),
        event(Deed.CLIP, 3, what="words"),
    )

    assert lengths_of_clips(tmp_path, run_of(setup, events=clips)) == {"a.mp4": 12}
    assert lengths_of_clips(tmp_path, run_of(setup, events=clips[1:])) == {}
    assert asked == [((tmp_path / "seasons/s/run", tmp_path), ["a.mp4"])]
