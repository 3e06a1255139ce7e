"""`sitegen validate`: what is wrong or odd in a journal; with `--fix` and `--upgrade` its mends.

In: a journal. Out: findings; files change only with those two options.
"""

from sitegen.app.validate.command import command

__all__ = ["command"]
