"""`sitegen begin`: the first files of a journal, a season, an experiment.

In: names and options. Out: new files; an existing file is never changed.
"""

from sitegen.app.begin.commands import command

__all__ = ["command"]
