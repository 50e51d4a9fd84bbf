"""`python -m tests.clueprint.kill_at FOLDER SOURCE...`: archives as one worker does, and is killed with SIGKILL when it
comes to touch a file for the Nth time: to make, open for writing, rename or remove it; for N from 1 until there is no
Nth time. What each left is in FOLDER/killed-N, and what going on from there made of it in FOLDER/resumed-N. Pages are
read here and only once, so that every instant of writing can be tried in little time."""

from __future__ import annotations

import os
import shutil
import signal
import sys
from itertools import count as count_from
from pathlib import Path
from typing import Any, ClassVar

from clueprint.archive import crew
from clueprint.archive.catalogue import Catalogue
from clueprint.archive.jobs import Answer, Job
from clueprint.archive.work import Wish, archive
from clueprint.stop import Stop
from tests.clueprint.archiving import Alone

TOUCHES = {"os.mkdir", "os.rename", "os.remove", "os.chmod", "tempfile.mkstemp"}


class Once(Alone):
    """A crew of one that does each job only once, however often it is given."""

    answers_of: ClassVar[dict[Job, Answer]] = {}

    def answer_to(self, job: Job) -> Answer:
        """The answer that it had before, if it had one."""
        if job not in self.answers_of:
            self.answers_of[job] = super().answer_to(job)
        return self.answers_of[job]


def killed(into: Path, sources: tuple[Path, ...], number: int) -> bool:
    """Archive in a process of its own that is killed at the Nth touch, 0 for never. Returns whether it was."""
    child = os.fork()
    if child == 0:
        os._exit(archived(into, sources, number))
    status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    assert status in (0, -signal.SIGKILL), status
    return status != 0


def archived(into: Path, sources: tuple[Path, ...], number: int) -> int:
    """Archive; returns the exit status."""
    left = number

    def count(event: str, arguments: tuple[Any, ...]) -> None:
        nonlocal left
        writes = event in TOUCHES or (event == "open" and isinstance(arguments[1], str) and "w" in arguments[1])
        if writes and str(into) in str(arguments[0]):
            left -= 1
            if left == 0:
                os.kill(os.getpid(), signal.SIGKILL)

    catalogue = Catalogue(into)
    sys.addaudithook(count)
    with Stop() as stop:
        archive(Wish(sources, into, workers=1, seconds=100, memory=2**32), catalogue, stop, lambda *_: None)
    catalogue.close()
    return 0


def main(folder: Path, sources: tuple[Path, ...]) -> None:
    """Be killed at every touch."""
    crew.Crew = Once
    (folder / "whole").mkdir()
    archived(folder / "whole", sources, 0)
    for number in count_from(1):
        into, resumed = folder / f"killed-{number}", folder / f"resumed-{number}"
        into.mkdir()
        if not killed(into, sources, number):
            break
        shutil.copytree(into, resumed)
        assert not killed(resumed, sources, 0)


if __name__ == "__main__":
    main(Path(sys.argv[1]), tuple(map(Path, sys.argv[2:])))
