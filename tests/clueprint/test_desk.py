"""`clueprint desk`: what the page is told, what a person can change, what is saved and when, and who may ask."""

from __future__ import annotations

import json
import os
import resource
import shutil
import signal
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from threading import Event

import pytest
from starlette.testclient import TestClient

from checker.prove import prove
from clueprint.desk import edits
from clueprint.desk.edits import Refused, State
from clueprint.desk.kinds import kinds_view
from clueprint.desk.server import Desk, application
from clueprint.desk.shelf import Shelf
from clueprint.reading import read_sources
from schema.cells import Cell
from schema.files import constraint_document, load_puzzle, puzzle_from, puzzle_text
from schema.kinds import KINDS
from schema.puzzle import Puzzle
from schema.reading import (
    Alternative,
    Frame,
    Item,
    Query,
    Reading,
    Source,
    load_reading,
    reading_from,
    reading_text,
    save_reading,
)
from tests.clueprint.reading_pages import UNIQUE, page, small

ROOT = Path(__file__).parents[2]
NAME = "tide-p1-1.reading.json"
R1C1 = "/givens/r1c1"
SOURCE = Source(file="x.png", sha256="0" * 64, page=1)
FRAME = Frame(width=600, height=600, unit="px")


@pytest.fixture(scope="module")
def read_once(tmp_path_factory):
    """A page that was read, as read."""
    folder = tmp_path_factory.mktemp("desk")
    read_sources([page(folder, "tide.png")], folder / "read") if (folder / "read").mkdir() is None else None
    return folder


@pytest.fixture
def folder(read_once, tmp_path):
    """The same to work on, with doubt about the 1 in r1c1, which may be a 4, and about a place."""
    shutil.copytree(read_once, tmp_path, dirs_exist_ok=True)
    file = tmp_path / "read" / NAME
    reading = load_reading(file)
    items = tuple(_doubtful(item) if item.item == R1C1 else item for item in reading.items)
    place = reading.items[2].where
    queries = (Query(item=R1C1, why="it was hard to read"), Query(where=place, why="there is ink here"))
    save_reading(reading.model_copy(update={"items": items, "queries": queries, "verdict": "query"}), file)
    return tmp_path / "read"


def _doubtful(item: Item) -> Item:
    return item.model_copy(update={"confidence": 0.6, "alternatives": (Alternative(value=4, confidence=0.4),)})


@pytest.fixture
def desk(folder):
    return Desk(Shelf(folder))


@pytest.fixture
def client(desk):
    return TestClient(application(desk, "token"), base_url="http://127.0.0.1")


def state_of(folder) -> State:
    return State(load_puzzle(folder / NAME.replace("reading", "puzzle")), load_reading(folder / NAME))


def sheet(client):
    return client.get(f"/token/api/sheet/{NAME}").json()


def edit(client, **wish):
    return client.post(f"/token/api/edit/{NAME}", json={"version": sheet(client)["version"], "wish": wish})


def save(client):
    return client.post(f"/token/api/save/{NAME}", json={"version": sheet(client)["version"]})


# ------------------------------------------------------------------------------------------------ edits


def test_every_state_is_a_sound_puzzle_with_its_reading(folder):
    state = state_of(folder)
    for changed in (
        edits.accept(state, 0),
        edits.accept(state, 1),
        edits.choose(state, R1C1, 0),
        edits.put_given(state, Cell.parse("r1c1"), None),
        edits.put_given(state, Cell.parse("r4c4"), 1),
        edits.delete(state, "/constraints/0"),
    ):
        assert puzzle_from(puzzle_text(changed.puzzle).encode()) == changed.puzzle
        assert reading_from(reading_text(changed.reading).encode()) == changed.reading
        document = json.loads(puzzle_text(changed.puzzle))
        for item in changed.reading.items:
            _, part, key = item.item.split("/")
            assert document[part][int(key) if part == "constraints" else key] is not None


def test_accepting_makes_an_item_sure_and_its_query_goes(folder):
    changed = edits.accept(state_of(folder), 0)
    item = next(item for item in changed.reading.items if item.item == R1C1)
    assert item.confidence == 1 and changed.puzzle == state_of(folder).puzzle
    assert [query.why for query in changed.reading.queries] == ["there is ink here"]


def test_an_alternative_takes_the_place_of_what_was_read(folder):
    changed = edits.choose(state_of(folder), R1C1, 0)
    assert changed.puzzle.givens[Cell.parse("r1c1")] == 4
    item = next(item for item in changed.reading.items if item.item == R1C1)
    assert (item.how, item.confidence) == ("inferred", 1)


def test_a_given_that_was_overlooked_stands_where_its_cell_is(folder):
    changed = edits.put_given(state_of(folder), Cell.parse("r4c4"), 1)
    item = changed.reading.items[-1]
    assert item.item == "/givens/r4c4"
    corners = changed.reading.corners
    assert item.where[2] == pytest.approx(corners[2], abs=0.02)


def test_pointers_follow_when_a_constraint_goes(folder):
    state = state_of(folder)
    thermometers = [{"kind": "thermometer", "path": path} for path in (["r1c1", "r2c2"], ["r3c3", "r4c4"])]
    state = edits.change(state, "/constraints/0", [{"kind": "rows"}, *thermometers])
    query = Query(item="/constraints/2", why="is it one?")
    state = State(state.puzzle, state.reading.model_copy(update={"queries": (query,)}), state.answered)
    changed = edits.delete(state, "/constraints/1")
    assert changed.reading.queries[0].item == "/constraints/1"
    assert changed.puzzle.constraints[1].path[0] == Cell.parse("r3c3")
    assert "/constraints/1" in changed.answered
    assert edits.delete(changed, "/constraints/1").reading.queries == ()


@pytest.mark.parametrize(
    ("pointer", "document"),
    [
        ("/constraints/0", {"kind": "thermometer", "path": ["r1c1", "r3c3"]}),
        ("/constraints/0", {"kind": "columns"}),
        ("/constraints/0", {"kind": "wormhole"}),
        ("/constraints/9", {"kind": "rows"}),
        ("/givens/r1c1", {"kind": "rows"}),
    ],
)
def test_what_leaves_no_sound_puzzle_is_refused(folder, pointer, document):
    with pytest.raises(Refused):
        edits.change(state_of(folder), pointer, [document])


def unmarked(kind, grid):
    """The worked sample of a kind as a person would put it on a blank grid."""
    sample = kind.sample()
    return State(
        Puzzle(grid=sample.grid, givens={}, constraints=sample.extra),
        Reading(
            puzzle="x.puzzle.json", source=SOURCE, frame=FRAME, corners=grid, verdict="query", items=(), queries=()
        ),
    ), sample.constraint


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_kind_is_added_by_the_fields_that_the_page_is_told_of(kind):
    state, wanted = unmarked(kind, ((100, 100), (500, 100), (500, 500), (100, 500)))
    told = next(view for view in kinds_view() if view["kind"] == wanted.kind)
    fields = {field["name"]: field for field in told["fields"]}
    document = constraint_document(wanted)
    assert document.keys() - {"kind"} <= fields.keys()
    assert {name for name, field in fields.items() if field["required"]} <= document.keys()
    changed = edits.add(state, [document])
    added = changed.puzzle.constraints[-1]
    assert type(added) is kind and constraint_document(added) == document
    pointers = [item.item for item in changed.reading.items]
    number = len(changed.puzzle.constraints) - 1
    assert pointers == ([f"/constraints/{number}"] if told["drawn"] else [])
    assert edits.delete(changed, f"/constraints/{number}").puzzle == state.puzzle


def test_the_form_of_each_field_is_that_of_its_model():
    forms = {view["kind"]: {f["name"]: f for f in view["fields"]} for view in kinds_view()}
    cage = forms["cage"]
    assert [cage[name]["form"] for name in ("cells", "value", "operation", "repeats")] == [
        "cells", "number", "choice", "switch",
    ]  # fmt: skip
    assert cage["operation"]["default"] == "sum" and "product" in cage["operation"]["options"]
    assert not cage["cells"]["ordered"] and forms["thermometer"]["path"]["ordered"]
    assert forms["sum-pair"]["cells"]["most"] == 2 and forms["gap-line"]["gap"]["most"] == 99
    assert forms["boxes"]["cells"]["form"] == "groups" and forms["greater"]["less"]["form"] == "cell"
    assert forms["corner-digits"]["digits"]["form"] == "numbers" and forms["unread-mark"]["shape"]["form"] == "text"


def test_what_is_added_or_moved_stands_where_our_drawing_has_it(folder):
    state = state_of(folder)
    (left, top), _, (right, bottom), _ = state.reading.corners
    cell = (right - left) / 4
    changed = edits.add(state, [{"kind": "skyscraper", "side": "left", "index": 2, "value": 2}])
    where = changed.reading.items[-1].where
    assert all(x < left and top + cell < y < top + 2 * cell for x, y in where)
    changed = edits.add(state, [{"kind": "cage", "cells": ["r1c1", "r1c2"]}])
    moved = edits.change(changed, "/constraints/3", [{"kind": "cage", "cells": ["r4c3", "r4c4"]}])
    assert all(y > bottom - cell for _, y in moved.reading.items[-1].where)
    numbered = edits.change(moved, "/constraints/3", [{"kind": "cage", "cells": ["r4c3", "r4c4"], "value": 3}])
    assert numbered.reading.items[-1].where == moved.reading.items[-1].where
    ruled = edits.change(numbered, "/constraints/3", [{"kind": "knight-apart"}])
    assert "/constraints/3" not in [item.item for item in ruled.reading.items]


@pytest.mark.parametrize(
    ("document", "why"),
    [
        ({"kind": "gap-line", "path": ["r1c1", "r1c2"]}, "the key 'gap' is missing"),
        ({"kind": "cage", "cells": [], "value": "six"}, "cells: needs 1 or more.*; value: a whole number is needed"),
        ({"kind": "thermometer", "path": ["r1c1", "r3c3"]}, "thermometer from r1c1 to r3c3: r3c3 does not touch r1c1"),
        ({"kind": "rows"}, "rows: says the same as rows"),
        ({"kind": "all-marked", "of": "sum-pair"}, "no sum-pair of the puzzle"),
    ],
)
def test_what_is_refused_is_told_in_words_without_pointers(folder, document, why):
    with pytest.raises(Refused, match=why) as refused:
        edits.add(state_of(folder), [document])
    assert "/constraints" not in str(refused.value)


# ------------------------------------------------------------------------------------------------ server


def test_the_puzzles_of_a_page(client, folder):
    for end in ("2", "10", "2-grid"):
        shutil.copy(folder / NAME, folder / NAME.replace("p1-1", f"p1-{end}"))
    found = client.get(f"/token/api/page/{NAME}").json()
    assert [other["reading"] for other in found] == [NAME.replace("p1-1", f"p1-{n}") for n in (1, 2, 10)]
    assert found[1]["title"] == "Low Tide" and len(found[1]["corners"]) == 4
    assert client.get("/token/api/page/none.reading.json").status_code == 404


def test_an_added_constraint_is_proved_and_saved(client, folder):
    told = {view["kind"] for view in client.get("/token/api/kinds").json()}
    assert "cage" in told
    view = edit(client, do="add", constraint={"kind": "cage", "cells": ["r1c1", "r1c2"], "value": 7}).json()
    assert view["items"][-1]["words"].startswith("cage 7") and view["items"][-1]["answered"]
    proof = client.get(f"/token/api/proof/{NAME}", params={"version": view["version"]}).json()
    assert proof["outcome"] == "none"
    assert save(client).status_code == 200
    assert load_puzzle(folder / NAME.replace("reading", "puzzle")).constraints[-1].value == 7


def test_only_who_knows_the_token_and_asks_this_machine(client):
    assert client.get("/token/").status_code == 200
    assert client.get(f"/token/api/sheet/{NAME}").status_code == 200
    for address in ("/", "/other/", f"/other/api/sheet/{NAME}", f"/api/sheet/{NAME}", "/docs", "/openapi.json"):
        assert client.get(address).status_code == 404, address
    assert client.get("/token/", headers={"Host": "evil.example"}).status_code == 400
    for name in ("../tide.png", "..%2Ftide.png", "tide-p1-1.puzzle.json", "%2Fetc%2Fpasswd"):
        assert client.get(f"/token/api/sheet/{name}").status_code == 404, name
    policy = client.get("/token/").headers["Content-Security-Policy"]
    assert policy.startswith("default-src 'self'")


def test_nothing_comes_from_outside():
    for file in (ROOT / "clueprint" / "desk" / "static").iterdir():
        text = file.read_text("utf-8").replace("http://www.w3.org/2000/svg", "")
        assert "http:" not in text and "https:" not in text and "//cdn" not in text, file


def test_the_list(client):
    found = client.get("/token/api/puzzles", params={"verdict": "query"}).json()
    assert found["total"] == 1 and found["next"] is None
    assert found["puzzles"][0] == {
        "reading": NAME, "verdict": "query", "queries": 2, "title": "Low Tide", "source": "tide.png", "page": 1,
    }  # fmt: skip
    assert client.get("/token/api/puzzles", params={"words": "TIDE"}).json()["total"] == 1
    assert client.get("/token/api/puzzles", params={"words": "ebb"}).json()["total"] == 0
    assert client.get("/token/api/puzzles", params={"verdict": "clean"}).json()["total"] == 0


@pytest.mark.usefixtures("alone")
def test_the_list_of_an_archive_says_what_was_saved_since(run, tmp_path):
    into = tmp_path / "out"
    assert run("archive", page(tmp_path, "loose.png", {"r1c1": 1}), "--into", into)[0] == 1
    client = TestClient(application(Desk(Shelf(into)), "token"), base_url="http://127.0.0.1")
    query = {"verdict": "query"}
    assert client.get("/token/api/puzzles", params=query).json()["total"] == 1
    reading = load_reading(into / "loose-p1-1.reading.json")
    save_reading(reading.model_copy(update={"queries": (), "verdict": "clean"}), into / "loose-p1-1.reading.json")
    assert client.get("/token/api/puzzles", params=query).json()["puzzles"] == []
    # The catalogue knows where the page is.
    assert client.get("/token/api/scan/loose-p1-1.reading.json").headers["Content-Type"] == "image/jpeg"


def test_the_scan_is_the_file_that_was_read(client, folder):
    answer = client.get(f"/token/api/scan/{NAME}")
    assert answer.status_code == 200 and answer.content.startswith(b"\xff\xd8\xff")
    (folder.parent / "tide.png").write_bytes(b"another file")
    other = TestClient(application(Desk(Shelf(folder)), "token"), base_url="http://127.0.0.1")
    answer = other.get(f"/token/api/scan/{NAME}")
    assert answer.status_code == 404 and "--scans" in answer.json()["detail"]


def test_answers_are_proved_again(client):
    proof = client.get(f"/token/api/proof/{NAME}", params={"version": 0}).json()
    assert (proof["outcome"], proof["verdict"]) == ("one", "query")
    # With a 4 in r1c1 there are two 4s in no row, but no solution is left.
    view = edit(client, do="choose", item=R1C1, alternative=0).json()
    proof = client.get(f"/token/api/proof/{NAME}", params={"version": view["version"]}).json()
    assert proof["outcome"] == prove(small({**UNIQUE, "r1c1": 4})).outcome != "one"
    assert client.post(f"/token/api/undo/{NAME}", json={"version": 1}).json()["queries"][0]["item"] == R1C1


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
    assert (folder / NAME.replace("reading", "puzzle")).read_bytes() == before[NAME.replace("reading", "puzzle")]


def test_a_changed_digit_is_saved_and_the_file_before_is_kept(client, folder):
    puzzle = folder / NAME.replace("reading", "puzzle")
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


def test_a_clue_is_changed(client, folder):
    cage = {"kind": "cage", "cells": ["r4c3", "r4c4"], "value": 3}
    edit(client, do="change", item="/constraints/0", constraint=cage)
    view = edit(client, do="change", item="/constraints/0", constraint={**cage, "value": 5}).json()
    (item,) = (item for item in view["items"] if item["item"] == "/constraints/0")
    assert item["constraint"]["value"] == 5 and item["answered"] and "cage" in item["words"]
    assert any(shape.get("text") == "5" and shape["item"] == "/constraints/0" for shape in view["drawing"]["shapes"])


def test_a_total_that_print_does_not_show_can_be_put_in(client):
    cage = {"kind": "cage", "cells": ["r4c3", "r4c4"]}
    (item,) = (item for item in edit(client, do="change", item="/constraints/0", constraint=cage).json()["items"]
               if item["item"] == "/constraints/0")  # fmt: skip
    assert "value" not in item["constraint"]
    view = edit(client, do="change", item="/constraints/0", constraint={**cage, "value": 5}).json()
    assert [item["constraint"].get("value") for item in view["items"] if item["constraint"]] == [5, None, None]


def test_a_proof_that_nobody_waits_for_is_stopped(desk, client, monkeypatch):
    clocks = []
    monkeypatch.setattr("clueprint.desk.sheet.prove", lambda _puzzle, clock: clocks.append(clock))
    edit(client, do="given", cell="r1c1", digit=4)
    edit(client, do="given", cell="r1c1", digit=3)
    desk.sheet(NAME).proof(60)
    assert clocks[-1].left > 0 and all(clock.left == 0 for clock in clocks[:-1])
    desk.close()
    assert clocks[-1].left == 0


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


def test_a_change_of_what_another_window_shows_no_longer(client):
    edit(client, do="accept", query=0)
    answer = client.post(f"/token/api/edit/{NAME}", json={"version": 0, "wish": {"do": "accept", "query": 0}})
    assert answer.status_code == 409


@pytest.mark.parametrize(
    "wish", [{}, {"do": "accept"}, {"do": "accept", "query": 7}, {"do": "given", "cell": "x", "digit": 1}]
)
def test_wishes_that_make_no_sense(client, wish):
    assert edit(client, **wish).status_code == 422


# ------------------------------------------------------------------------------------------------ command


@contextmanager
def served(*arguments: object) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """The command as a process, and the address that it prints."""
    command = [sys.executable, "-m", "clueprint", "desk", *map(str, arguments), "--no-browser", "--port", "0"]
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "text": True}
    with subprocess.Popen(command, cwd=ROOT, **pipes) as process:
        try:
            yield process, process.stdout.readline().strip()
        finally:
            process.kill()


def test_the_command_serves_until_it_is_stopped(folder):
    with served(folder, "--scans", folder.parent) as (process, address):
        assert address.startswith("http://127.0.0.1:")
        with urllib.request.urlopen(f"{address}api/sheet/{NAME}", timeout=60) as answer:
            assert json.load(answer)["title"] == "Low Tide"
        os.kill(process.pid, signal.SIGINT)
        out, err = process.communicate(timeout=60)
        assert (process.returncode, out, err) == (0, "", "")


def test_a_folder_that_is_not_there(run, tmp_path):
    code, out, err = run("desk", tmp_path / "nowhere", "--no-browser")
    assert (code, out) == (2, "") and len(err.splitlines()) == 1
