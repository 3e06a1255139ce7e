"""`sitegen log`: one visit into the log of an experiment, and out of it again.

In: an experiment, what was seen and done. Out: a new entry of its experiment.yaml, judged before it is written.
"""

from sitegen.app.log.command import command

__all__ = ["command"]
