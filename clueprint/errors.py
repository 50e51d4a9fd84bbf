"""What can go wrong for a user: every error carries its exit status and the next step."""

from __future__ import annotations

import sys

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


def one_line(text: object) -> str:
    """The text on one line, as every message on standard error is; control characters become escapes."""
    joined = " ".join(str(text).split())
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in joined)


def complain(why: object) -> None:
    """Write one line to standard error, under the program's name."""
    print(f"clueprint: {one_line(why)}", file=sys.stderr)
