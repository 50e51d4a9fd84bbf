"""What the desk saves, when, and that nothing is lost: both files or neither, with what stood there before."""

from __future__ import annotations

import resource
from concurrent.futures import ThreadPoolExecutor
from threading import Event

import pytest

from schema.cells import Cell
from schema.files import load_puzzle
from schema.reading import load_reading
from tests.clueprint.desk_asking import NAME, PUZZLE, edit, save, sheet


def test_nothing_is_saved_before_the_person_asks_and_then_both_files_are(client, folder):
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    edit(client, do="accept", query=0)
    edit(client, do="accept", query=0)
    client.get(f"/token/api/proof/{NAME}", params={"version": 2})
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before
    view = save(client).json()
    assert (view["verdict"], view["unsaved"]) == ("clean", False)
    reading = load_reading(folder / NAME)
    assert (reading.verdict, reading.queries) == ("clean", ())
    assert (folder / (NAME + ".before")).read_bytes() == before[NAME]
    assert (folder / PUZZLE).read_bytes() == before[PUZZLE]


def test_a_changed_digit_is_saved_and_the_file_before_is_kept(client, folder):
    puzzle = folder / PUZZLE
    before = puzzle.read_bytes()
    edit(client, do="given", cell="r1c1", digit=4)
    assert save(client).status_code == 200
    assert load_puzzle(puzzle).givens[Cell.parse("r1c1")] == 4
    assert puzzle.with_name(puzzle.name + ".before").read_bytes() == before
    edit(client, do="given", cell="r1c1", digit=1)
    save(client)
    assert puzzle.with_name(puzzle.name + ".before").read_bytes() == before
    assert puzzle.with_name(puzzle.name + ".before-2").exists()


def test_what_is_in_doubt_is_never_saved_as_clean(client, folder):
    edit(client, do="given", cell="r1c1", digit=4)  # answers the query, and leaves no solution
    edit(client, do="accept", query=0)
    client.get(f"/token/api/proof/{NAME}", params={"version": 2})
    save(client)
    assert load_reading(folder / NAME).queries == ()
    assert load_reading(folder / NAME).verdict == "query"


def test_a_file_that_changed_meanwhile_is_not_overwritten(client, folder):
    edit(client, do="accept", query=0)
    file = folder / NAME
    other = file.read_text("utf-8").replace("hard to read", "hard to see")
    file.write_text(other, "utf-8")
    answer = save(client)
    assert answer.status_code == 409 and "changed" in answer.json()["detail"]
    assert file.read_text("utf-8") == other
    assert client.post(f"/token/api/reload/{NAME}", json={}).json()["queries"][0]["why"] == "it was hard to see"


def test_both_files_are_saved_or_neither(client, folder):
    edit(client, do="given", cell="r1c1", digit=4)
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    sizes = sorted(len(content) for content in before.values())
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    # As on a full disk: there is room for the puzzle file and not for the reading.
    resource.setrlimit(resource.RLIMIT_FSIZE, ((sizes[0] + sizes[1]) // 2, hard))
    try:
        answer = save(client)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert answer.status_code == 422 and "nothing was saved" in answer.json()["detail"]
    assert {name: (folder / name).read_bytes() for name in before} == before
    assert sheet(client)["unsaved"] and save(client).status_code == 200


def test_with_queries_left_saving_waits_for_no_proof(client, folder, monkeypatch):
    monkeypatch.setattr("clueprint.desk.sheet.Sheet.proof", lambda _sheet, seconds: 1 / 0 if seconds else None)
    edit(client, do="accept", query=0)
    assert save(client).json()["verdict"] == "query"
    assert len(load_reading(folder / NAME).queries) == 1


def test_who_ends_the_desk_while_it_saves_loses_nothing_and_is_not_told_so(client, desk, monkeypatch):
    edit(client, do="accept", query=0)
    edit(client, do="accept", query=0)
    saving, proved = Event(), Event()

    def proof(_sheet, seconds):
        if seconds:
            saving.set()
            proved.wait(60)

    monkeypatch.setattr("clueprint.desk.sheet.Sheet.proof", proof)
    with ThreadPoolExecutor() as threads:
        version = desk.sheet(NAME).version
        saved = threads.submit(client.post, f"/token/api/save/{NAME}", json={"version": version})
        assert saving.wait(60)
        unsaved = threads.submit(lambda: desk.unsaved)
        with pytest.raises(TimeoutError):
            unsaved.result(0.2)
        proved.set()
        assert saved.result(60).status_code == 200 and unsaved.result(60) == []
