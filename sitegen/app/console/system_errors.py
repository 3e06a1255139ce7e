"""What the system refuses (a full disk, a folder without permission), told as one message and not as a fault of ours.

In: an `OSError`. Out: what, where, what to do; or nothing, for an error that the program itself must have made.
"""

from __future__ import annotations

import errno
from pathlib import Path

_ROOM = "make room there, and run the command again"
_RIGHTS = "see that you may read and write there, and run the command again"
_AGAIN = "see that the disk is there and sound, and run the command again"
_NAMES = "choose another place or a shorter name"

# What to do, by the number of the error (POSIX.1-2017, errno.h).
_ADVICE = {
    errno.ENOSPC: _ROOM,
    errno.EDQUOT: _ROOM,
    errno.EFBIG: _ROOM,
    errno.EACCES: _RIGHTS,
    errno.EPERM: _RIGHTS,
    errno.EROFS: "choose a place that can be written to",
    errno.ENAMETOOLONG: _NAMES,
    errno.EILSEQ: _NAMES,
    errno.ELOOP: "remove the links that lead to each other",
    errno.ENOTDIR: "move the file away that lies where a folder goes",
    errno.EISDIR: "move the folder away that lies where a file goes",
    errno.ENOTEMPTY: "see what was put there meanwhile, and run the command again",
    errno.ENOENT: "see that it is there, and run the command again",
    errno.EAGAIN: "run the command again when the other one has ended",
    errno.EBUSY: _AGAIN,
    errno.EIO: _AGAIN,
    errno.ENODEV: _AGAIN,
    errno.ENXIO: _AGAIN,
    errno.ENOTCONN: _AGAIN,
    errno.ESTALE: _AGAIN,
    errno.EMFILE: "close other programs, or raise the number of open files (`ulimit -n`)",
    errno.ENFILE: "close other programs",
    errno.ENOMEM: "close other programs",
}
_PACKAGE = Path(__file__).parents[2]


def _working_folder_is_gone() -> bool:
    try:
        Path.cwd()
    except FileNotFoundError:
        return True
    return False


def told(error: OSError) -> str:
    """The message; empty where the error is of a file of the program, or of no kind that a system gives by itself."""
    advice = _ADVICE.get(error.errno or 0)
    name = error.filename2 or error.filename
    if advice is None or (name is not None and Path(str(name)).is_relative_to(_PACKAGE)):
        return ""
    if error.errno == errno.ENOENT and _working_folder_is_gone():
        return "the folder that the command was started in is gone\nchange to another folder, and run the command again"
    place = f": `{name}`" if name is not None else ""
    who = "not now" if error.errno == errno.EAGAIN else "the system refused"  # a lock is another command's
    return f"{who}{place}: {(error.strerror or 'unknown').lower()}\n{advice}"
