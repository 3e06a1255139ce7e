"""What was spoken, held against the log: claims of a transcript, and the verdict on each.

In: a transcript and the facts of a run. Out: `check_narration`, `Checked`.
"""

from sitegen.notes.check.report import Checked, check_narration

__all__ = ["Checked", "check_narration"]
