"""A journal while it is being written: what its site would be, with everything that is held back.

In: a journal, a store, files that were touched. Out: `Preview`s, one after another. An edit reads one experiment; a page
is made when it is asked for, and once; nothing is written but into the store.
"""

from __future__ import annotations

from sitegen.pipeline.previewing.looking import Previewer
from sitegen.pipeline.previewing.site import Leaf, Preview, Tools
from sitegen.pipeline.previewing.unit import Batch, Unit

__all__ = ["Batch", "Leaf", "Preview", "Previewer", "Tools", "Unit"]
