"""The options of `sitegen live`, and how its parts are put together.

In: the command line. Out: an exit status, once it is interrupted.
"""

from __future__ import annotations

import datetime as dt
from functools import partial
from pathlib import Path

import click

from sitegen.app.console.status import Status
from sitegen.app.live.network import NETWORK
from sitegen.app.options import journal_argument, root_of, today_option

PORT = 4180


@click.command(
    "live",
    epilog="Example: sitegen live my-bench --open --follow, or on a phone: sitegen live my-bench --host",
    help="Preview a journal in the browser while it is being written. Ctrl-C ends it.",
)
@journal_argument
@click.option(
    "--port", type=click.IntRange(0, 65535), default=PORT, show_default=True, help="Where to begin; 0: any."
)
@click.option(
    "--host",
    metavar="[ADDRESS]",
    default="",
    is_flag=False,
    flag_value=NETWORK,
    help="Show it on a phone too: at an address of this machine, or (last, without one) at that in the local network."
    " Needs the key in the address that is printed.",
)
@click.option("--open", "opens", is_flag=True, help="Open the browser.")
@click.option("--follow", is_flag=True, help="Move the browser to the page whose file is being edited.")
@click.option(
    "--poll", is_flag=True, help="Look again and again: for network drives, which report no changes."
)
@today_option
def command(
    journal: Path | None, port: int, host: str, opens: bool, follow: bool, poll: bool, today: dt.date
) -> int:
    """Serve until interrupted, which ends it as it ends every command."""
    from sitegen.app.live.session import live  # noqa: PLC0415 - `--help` does without

    say = partial(click.echo, err=True)
    live(root_of(journal), today, say, host=host, port=port, opens=opens, follow=follow, poll=poll)
    return Status.INTERRUPTED
