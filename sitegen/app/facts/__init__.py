"""`sitegen facts`: computed facts of runs, comparisons of several, and the working of one figure.

In: a journal or a Data Package. Out: tables or JSON on stdout.
"""

from sitegen.app.facts.command import command

__all__ = ["command"]
