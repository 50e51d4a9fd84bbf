"""`clueprint desk`: what the page is told, how answers are proved, who may ask, and the command itself."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from checker.prove import prove
from clueprint.desk.server import Desk, application
from clueprint.desk.shelf import Shelf
from schema.files import load_puzzle
from schema.reading import load_reading, save_reading
from tests.clueprint.desk_asking import NAME, PUZZLE, R1C1, edit, save
from tests.clueprint.reading_pages import UNIQUE, page, small

ROOT = Path(__file__).parents[2]


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
    assert load_puzzle(folder / PUZZLE).constraints[-1].value == 7


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


def test_a_change_of_what_another_window_shows_no_longer(client):
    edit(client, do="accept", query=0)
    answer = client.post(f"/token/api/edit/{NAME}", json={"version": 0, "wish": {"do": "accept", "query": 0}})
    assert answer.status_code == 409


@pytest.mark.parametrize(
    "wish", [{}, {"do": "accept"}, {"do": "accept", "query": 7}, {"do": "given", "cell": "x", "digit": 1}]
)
def test_wishes_that_make_no_sense(client, wish):
    assert edit(client, **wish).status_code == 422


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
