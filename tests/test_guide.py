"""The guides name nothing that is not there: files, modules that run, and options of the commands."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from clueprint.cli import COMMANDS

ROOT = Path(__file__).parents[1]
GUIDES = ("README.md", "DEVELOPERS.md")
_FILE = re.compile(r"`((?:[\w.]+/)*[\w.]+\.(?:py|txt|json|npz|js|sql|md|gz|png))`")
_FOLDER = re.compile(r"`((?:\w+/)+)`")
_MODULE = re.compile(r"python -m ((?:fixtures|schema|tests)[\w.]*)")
_STAND_IN = re.compile(r"\b[A-Z]{3,}\b|^\.")
"""What a reader puts in: NAME, STEM, OUT, or the end of a name."""


def _text(guide: str) -> str:
    return (ROOT / guide).read_text(encoding="utf-8")


def _files() -> list[str]:
    """Files of the rooms and beside them, as paths from the root."""
    rooms = [path for path in ROOT.iterdir() if path.is_dir() and not path.name.startswith((".", "out", "build"))]
    found = [path for room in rooms for path in room.rglob("*")] + list(ROOT.iterdir())
    return [path.relative_to(ROOT).as_posix() for path in found if path.is_file()]


@pytest.mark.parametrize("guide", GUIDES)
def test_every_file_and_folder_that_a_guide_names_is_there(guide: str) -> None:
    files = _files()
    named = {name for name in _FILE.findall(_text(guide)) if not _STAND_IN.search(name)}
    lost = {name for name in named if not any(f"/{file}".endswith(f"/{name}") for file in files)}
    assert named and not lost
    assert not [folder for folder in _FOLDER.findall(_text(guide)) if not list(ROOT.glob(f"**/{folder}"))]


@pytest.mark.parametrize("guide", GUIDES)
def test_every_module_that_a_guide_runs_is_there(guide: str) -> None:
    paths = [ROOT / name.replace(".", "/") for name in _MODULE.findall(_text(guide)) if not name.endswith("NAME")]
    assert [
        path for path in paths if not path.with_suffix(".py").exists() and not (path / "__main__.py").exists()
    ] == []


def _sessions() -> list[str]:
    """The parts of the README that show commands on our own pages, with what they print."""
    blocks = re.findall(r"```console\n(.*?)```", _text("README.md"), re.DOTALL)
    return [block for block in blocks if "fixtures/press/" in block]


@pytest.mark.parametrize("session", _sessions())
def test_what_the_readme_shows_on_our_own_pages_comes_out_so(
    run, session: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "fixtures").symlink_to(ROOT / "fixtures")
    monkeypatch.chdir(tmp_path)
    for shown in session.removeprefix("$ ").split("\n$ "):
        command, _, printed = shown.partition("\n")
        _, out, err = run(*command.split()[1:])
        assert err == ""
        anything = re.escape(printed.strip("\n")).replace(r"\.\.\.", ".*")
        assert re.fullmatch(anything, out.strip("\n"), re.DOTALL), out


def test_every_option_of_the_readme_is_one_of_its_command() -> None:
    lines = [line for line in _text("README.md").splitlines() if "clueprint " in line]
    found = 0
    for line in lines:
        for name, rest in re.findall(r"clueprint ([a-z-]+)([^`]*)", line):
            if name in COMMANDS:
                known = {option for param in COMMANDS[name].load().params for option in param.opts}
                options = set(re.findall(r"(?<!\S)--?[a-z][a-z-]*", rest))
                assert options <= known, line
                found += len(options)
    assert found >= 10
