"""An archive that is stopped: by the keyboard, by the system, by a page, at any instant."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time

import pytest
from distributed import LocalCluster

from tests.clueprint.archiving import ROOT, finished, is_alive, names, readers_of, rows, start, whole
from tests.clueprint.reading_pages import OTHER, page, picture, stacked

PAGES = 4


def volume(folder, pages=PAGES):
    """Small scans, each with a puzzle of its own content, under names that are no UTF-8."""
    folder.mkdir()
    image = picture(folder)
    for number in range(pages):
        image.putpixel((0, 0), (255, 255, 254 - number))
        image.save(folder / os.fsdecode(b"s\xe9%d.png" % number))
    return folder


def within(seconds, what):
    """Wait until something holds."""
    deadline = time.monotonic() + seconds
    while not what():
        assert time.monotonic() < deadline
        time.sleep(0.02)


def test_killed_at_every_touch_of_a_file(tmp_path):
    source = tmp_path / "two.png"
    stacked(picture(tmp_path, OTHER), picture(tmp_path)).save(source)
    command = [sys.executable, "-m", "tests.clueprint.kill_at", str(tmp_path), str(source)]
    subprocess.run(command, cwd=ROOT, check=True)
    resumed = sorted(tmp_path.glob("resumed-*"))
    # Four files, each made, given its permissions and its name, and the folder that they are written in.
    assert len(resumed) >= 13
    for into in tmp_path.glob("killed-*"):
        whole(into)
    for into in resumed:
        finished(into, 2)
        assert names(into) == names(tmp_path / "whole")
    runs = [rows(into, "SELECT outcome FROM runs") for into in resumed]
    assert runs.count([(None,), ("finished",)]) == len(resumed) - 1


@pytest.mark.slow
@pytest.mark.usefixtures("alone")
def test_killed_in_the_midst_of_reading(run, tmp_path):
    scans, into = volume(tmp_path / "scans"), tmp_path / "out"
    killed = start(scans, "--into", into, "--workers", 2)
    within(60, lambda: (into / "catalogue.sqlite").exists() and _pages(into))
    readers = readers_of(killed.pid)
    os.kill(killed.pid, signal.SIGKILL)
    killed.communicate()
    assert readers
    within(10, lambda: not any(map(is_alive, readers)))
    whole(into)
    code, out, err = run("archive", scans, "--into", into)
    assert (code, err) == (0, ""), out
    finished(into, PAGES)
    assert rows(into, "SELECT outcome FROM runs") == [(None,), ("finished",)]
    assert "were finished before" in out


def _pages(into):
    return rows(into, "SELECT 1 FROM sqlite_master WHERE name = 'pages'") and rows(into, "SELECT 1 FROM pages")


@pytest.mark.slow
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
@pytest.mark.usefixtures("alone")
def test_stopped_on_request(run, tmp_path, number):
    scans, into = volume(tmp_path / "scans"), tmp_path / "out"
    stopped = start(scans, "--into", into, "--workers", 1)
    within(60, lambda: (into / "catalogue.sqlite").exists() and _pages(into))
    readers = readers_of(stopped.pid)
    os.killpg(stopped.pid, number) if number == signal.SIGINT else os.kill(stopped.pid, number)
    out, err = stopped.communicate(timeout=60)
    assert stopped.returncode == 1
    assert err.startswith("clueprint: stopping when the pages in work are read") and len(err.splitlines()) == 1
    assert "the same command goes on" in out
    assert rows(into, "SELECT outcome FROM runs") == [("stopped",)]
    assert 0 < len(_pages(into)) < PAGES
    assert not any(map(is_alive, readers))
    finished(into, len(_pages(into)))
    assert run("archive", scans, "--into", into)[0] == 0
    finished(into, PAGES)


@pytest.mark.slow
def test_a_page_whose_reader_is_killed_is_read_by_another(tmp_path):
    scans, into = volume(tmp_path / "scans", 1), tmp_path / "out"
    run = start(scans, "--into", into, "--workers", 1, "--json")
    within(60, lambda: readers_of(run.pid))
    for reader in readers_of(run.pid):
        os.kill(reader, signal.SIGKILL)
    out, err = run.communicate(timeout=120)
    assert (run.returncode, err) == (0, ""), out
    finished(into, 1)


def test_two_runs_do_not_write_one_folder(tmp_path):
    scans, into = volume(tmp_path / "scans", 1), tmp_path / "out"
    first = start(scans, "--into", into, "--workers", 1)
    within(60, lambda: (into / "catalogue.sqlite").exists() and rows(into, "SELECT 1 FROM sqlite_master"))
    second = start(scans, "--into", into)
    out, err = second.communicate(timeout=60)
    assert (second.returncode, out) == (2, "")
    assert "another run archives into it" in err and len(err.splitlines()) == 1
    first.communicate(timeout=120)
    assert first.returncode == 0
    finished(into, 1)


def test_workers_of_a_scheduler(run, tmp_path):
    source, into = page(tmp_path, "tide.png"), tmp_path / "out"
    with LocalCluster(
        n_workers=1, threads_per_worker=1, processes=False, protocol="tcp", host="127.0.0.1", dashboard_address=None
    ) as cluster:
        code, out, err = run("archive", source, "--into", into, "--scheduler", cluster.scheduler_address)
        assert (code, err) == (0, ""), out
    finished(into, 1)
    assert rows(into, "SELECT outcome FROM runs") == [("finished",)]
    ((address,),) = rows(into, "SELECT scheduler FROM runs")
    assert address.startswith("tcp://127.0.0.1:")


def test_workers_with_another_version_read_nothing(run, tmp_path, monkeypatch):
    monkeypatch.setattr("clueprint.archive.readers.version", lambda _: "0.0.1")
    code, out, err = run("archive", page(tmp_path, "tide.png"), "--into", tmp_path / "out")
    assert (code, out) == (2, "")
    assert "a worker has clueprint 0.0.1" in err and len(err.splitlines()) == 1
    assert names(tmp_path / "out") == []
