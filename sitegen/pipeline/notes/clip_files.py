"""The lengths of a run's clips whose files lie beside the journal and whose length the log does not say.

In: the journal's folder, a run. Out: seconds by the name of the file.
"""

from __future__ import annotations

from pathlib import Path

from sitegen.core.records.rows import Clip, Run
from sitegen.ingest.clip_lengths import clip_lengths


def lengths_of_clips(root: Path, run: Run) -> dict[str, int]:
    """Of files in the experiment's folder, or in that of the journal."""
    names = [clip.file for clip in run.rows.of(Clip) if clip.file and clip.length is None]
    folder = (root / run.setup.source.file).parent
    return clip_lengths((folder, root), names) if names else {}
