"""The entry point: calls the module of a command, and turns each outcome into an exit status.

In: arguments. Out: an exit status, with messages on stderr. A command's module is imported when it is called.
"""

from __future__ import annotations

import errno
import os
import sys
from contextlib import suppress
from importlib import import_module

import click

from sitegen import __version__
from sitegen.app.console.status import Status
from sitegen.app.console.streams import prepare_streams
from sitegen.core.gc_threshold import raise_gc_threshold

# In the order in which they are needed.
_COMMANDS = {
    "begin": "start a journal, a season or an experiment",
    "log": "add a visit to the log of an experiment",
    "validate": "report what is wrong or odd in a journal",
    "facts": "print computed facts",
    "write": "write the site",
    "notes": "draft what to speak in an episode, and what goes under it",
    "live": "preview a journal while it is being written",
    "schema": "print the format for editors and people",
}


class _LazyGroup(click.Group):
    """Commands by name, each imported only when it is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002 - as above
        if cmd_name not in _COMMANDS:
            return None
        command = import_module(f"sitegen.app.{cmd_name}").command
        assert isinstance(command, click.Command)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002 - as above
        with formatter.section("Commands"):
            formatter.write_dl(list(_COMMANDS.items()))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and args[0] not in _COMMANDS and not args[0].startswith("-"):
            from sitegen.core.language.text import did_you_mean  # noqa: PLC0415 - only on a mistake

            ctx.fail(f"there is no command `{args[0]}`: {did_you_mean(args[0], _COMMANDS)}")
        return super().resolve_command(ctx, args)


@click.group(
    cls=_LazyGroup,
    help="Turn the records of indoor growing experiments into a site.",
    context_settings={"help_option_names": ["-h", "--help"]},
    epilog="Example: sitegen begin journal my-bench",
)
@click.version_option(__version__, prog_name="sitegen")
def cli() -> None:
    """All commands; help is given as text, since `python -OO` leaves docstrings out."""


def run(arguments: list[str] | None = None) -> None:
    """Run one command and end with its status."""
    raise_gc_threshold()
    prepare_streams()
    status = status_of(arguments)
    try:
        sys.stdout.flush()
    except OSError as error:  # the last lines of what was printed, on a full disk
        status = status or _refused(error)
        _leave_unprinted()
    sys.exit(status)


def status_of(arguments: list[str] | None = None) -> int:
    """The exit status of one command; every failure is reported on stderr."""
    try:
        result = cli.main(arguments, prog_name="sitegen", standalone_mode=False)
    except click.ClickException as error:
        error.show()
        return Status.USAGE
    except (KeyboardInterrupt, click.Abort):
        click.echo("interrupted", err=True)
        return Status.INTERRUPTED
    except (BrokenPipeError, SystemExit):  # click itself exits, with 1, where nobody reads any more
        _leave_unprinted()
        return Status.DONE
    except OSError as error:
        _leave_unprinted()
        return _refused(error)
    except Exception as error:
        return _failed(error)
    return result if isinstance(result, int) else Status.DONE


def _failed(error: Exception) -> int:
    """Our own fault: print what a report needs."""
    # Until 3.13, Python says so what the system says of a path with links that lead to each other.
    if isinstance(error, RuntimeError) and "Symlink loop" in str(error):
        return _refused(OSError(errno.ELOOP, str(error)))
    _report_fault()
    return Status.FAULT


def _refused(error: OSError) -> int:
    """Say what the system refused; an error that it cannot have made alone is our own fault."""
    from sitegen.app.console.system_errors import told  # noqa: PLC0415 - only where something went wrong

    if isinstance(error, BrokenPipeError):
        return Status.DONE
    message = told(error)
    if not message:
        _report_fault()
        return Status.FAULT
    with suppress(OSError):
        click.echo(message, err=True)
    return Status.REFUSED


def _leave_unprinted() -> None:
    """What is left for stdout goes nowhere: Python would try to print it at its end, and fail once more."""
    with suppress(OSError, ValueError):
        sys.stdout.flush()
        return
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _report_fault() -> None:
    import platform  # noqa: PLC0415 - only where something went wrong
    import traceback  # noqa: PLC0415 - as above

    click.echo(traceback.format_exc(), err=True)
    click.echo(
        "This is a fault of sitegen, not of the journal. Please report the lines above, with:\n"
        f"  sitegen {__version__}, Python {platform.python_version()}, {platform.platform()}",
        err=True,
    )
