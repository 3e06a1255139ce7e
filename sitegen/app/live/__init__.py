"""`sitegen live`: watch a journal, make its pages in memory, serve them to this machine, renew them in the browser.

In: a journal that is being written. Out: pages over HTTP. Nothing is ever written, neither to the journal nor to the
output folder, and nothing can be changed over HTTP.
"""

from sitegen.app.live.command import command

__all__ = ["command"]
