"""What can go wrong for a user: every error carries its exit status and the next step."""

from __future__ import annotations

import errno
import sys
from pathlib import Path

EXIT_FINE = 0
EXIT_LOOK = 1
"""It ran, and there is something to look at."""
EXIT_CANNOT = 2
"""It could not run: usage, or input that cannot be read."""


class ClueprintError(Exception):
    """Something that a user can put right: `what` is wrong, and the `remedy`, in plain words."""

    exit_status = EXIT_CANNOT

    def __init__(self, what: str, remedy: str) -> None:
        super().__init__(what, remedy)
        self.what = what
        self.remedy = remedy

    def __str__(self) -> str:
        return f"{self.what}; {self.remedy}" if self.remedy else self.what


NO_ROOM = (errno.ENOSPC, errno.EDQUOT)
"""A full disk, and a share of one that is used up."""


def unwritable(path: Path, fault: OSError, remedy: str = "") -> ClueprintError:
    """The error for a file or folder that cannot be written; `remedy` is for all but a full disk and a
    folder where a file is to go."""
    remedy = remedy or "choose a folder that exists and is writable"
    if fault.errno in NO_ROOM:
        remedy = "make room on that disk and run it again"
    elif fault.errno == errno.EISDIR:
        remedy = "name a file, not a folder"
    return ClueprintError(f"{path}: cannot be written ({fault.strerror or fault})", remedy)


def one_line(text: object) -> str:
    """The text on one line, as every message on standard error is; control characters become escapes."""
    return escaped(" ".join(str(text).split()))


def escaped(text: str) -> str:
    """A name as a line can show it: control characters, and bytes that are no UTF-8, as escapes."""
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)


def complain(why: object) -> None:
    """Write one line to standard error, under the program's name."""
    print(f"clueprint: {one_line(why)}", file=sys.stderr)
