"""One puzzle on the desk: loaded, worked on with undo, proved in the background, saved when the person asks for it."""

from __future__ import annotations

import hashlib
from concurrent.futures import CancelledError, Future, ThreadPoolExecutor
from pathlib import Path
from typing import Literal

from checker.prove import TIME_LIMIT, Proof, prove
from checker.search import Clock
from clueprint.aside import keep_old
from clueprint.desk.edits import State
from clueprint.errors import ClueprintError
from schema.files import load_puzzle, puzzle_text
from schema.puzzle import Puzzle
from schema.reading import Verdict, load_reading, reading_text
from schema.whole import write_whole

Saved = Literal["saved", "changed"]
_PROVER = ThreadPoolExecutor(1, thread_name_prefix="proof")
"""One proof at a time: the person waits for the latest, the machine is theirs."""


class Sheet:
    """A puzzle with its reading. Raises BadFile for files that are none, ClueprintError for a faulty reading."""

    def __init__(self, reading_file: Path) -> None:
        self.reading_file = reading_file
        reading = load_reading(reading_file)
        if reading.puzzle is None:
            raise ClueprintError(f"{reading_file.name}: no puzzle was made of this grid", "look at the page itself")
        self.puzzle_file = reading_file.parent / Path(reading.puzzle).name
        self._past: list[State] = []
        self._version = 0
        self._on_disk = self._digests()
        self._saved = self.state = State(load_puzzle(self.puzzle_file), reading)
        self._begin_proof()

    @property
    def version(self) -> int:
        """Grows with every change; a change of an older version is one that somebody did not see."""
        return self._version

    @property
    def can_undo(self) -> bool:
        """Whether there is a change to take back."""
        return bool(self._past)

    @property
    def unsaved(self) -> bool:
        """Whether there is something that a file does not have."""
        return self.state is not self._saved

    def become(self, state: State) -> None:
        """A change by the person."""
        self._past.append(self.state)
        self._turn_to(state)

    def undo(self) -> None:
        """Take the last change back."""
        if self._past:
            self._turn_to(self._past.pop())

    def _turn_to(self, state: State) -> None:
        before, self.state = self.state, state
        self._version += 1
        if state.puzzle != before.puzzle:
            self.stop_proof()
            self._begin_proof()

    def _begin_proof(self) -> None:
        self._clock = Clock(TIME_LIMIT)
        self._proof: Future[Proof] = _PROVER.submit(_proved, self.state.puzzle, self._clock)

    def stop_proof(self) -> None:
        """Nobody waits for the proof any more: the next one need not wait for it either."""
        self._proof.cancel()
        self._clock.stop()

    def proof(self, seconds: float) -> Proof | None:
        """The proof of the puzzle as it is now; None when it is not there after so many seconds."""
        future = self._proof
        try:
            return future.result(seconds)
        except (TimeoutError, CancelledError):
            return None

    @property
    def verdict(self) -> Verdict:
        """What the contract calls the reading as it is now: clean when nothing is in query, every mark is understood
        and the checker has proved exactly one solution."""
        proof = self.proof(0)
        understood = all(constraint.understood for constraint in self.state.puzzle.constraints)
        sure = not self.state.reading.queries and understood and proof is not None and proof.outcome == "one"
        return "clean" if sure else "query"

    def save(self) -> Saved:
        """Write both files, whole or not at all, and keep those before as NAME.before; waits for the proof where the
        verdict depends on it. Nothing is written where a file is no longer what was loaded. Raises OSError; then both
        files are as before."""
        if self._digests() != self._on_disk:
            return "changed"
        if not self.state.reading.queries:
            self.proof(TIME_LIMIT)
        verdict = self.verdict
        reading = self.state.reading.model_copy(update={"verdict": verdict})
        texts = {self.puzzle_file: puzzle_text(self.state.puzzle), self.reading_file: reading_text(reading)}
        before = {path: path.read_bytes() for path in texts}
        written: list[Path] = []
        try:
            for path, text in texts.items():
                content = text.encode("utf-8")
                if content != before[path]:
                    keep_old(path, text)
                    write_whole(path, content)
                    written.append(path)
        except OSError:
            for path in written:
                write_whole(path, before[path])
            raise
        self._on_disk = self._digests()
        self._saved = self.state
        return "saved"

    def _digests(self) -> tuple[str, ...]:
        return tuple(hashlib.sha256(path.read_bytes()).hexdigest() for path in (self.puzzle_file, self.reading_file))


def _proved(puzzle: Puzzle, clock: Clock) -> Proof:
    clock.restart()  # it had to wait for its turn
    return prove(puzzle, clock)
