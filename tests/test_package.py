"""What the package promises to whoever installs it: its version, its public names, its help, its rooms' type hints."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from importlib.metadata import entry_points, version
from pathlib import Path

import pytest

import clueprint
from clueprint.cli import COMMANDS

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
HEAVY = ("cv2", "numpy", "ortools", "pydantic", "skimage", "PIL", "pdfplumber", "rich")


def test_version():
    command = [sys.executable, "-m", "clueprint", "--version"]
    done = subprocess.run(command, capture_output=True, text=True, cwd=ROOT, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == f"clueprint {PROJECT['version']}\n"
    assert version("clueprint") == PROJECT["version"]


def test_the_console_script_is_the_command_line():
    (script,) = entry_points(group="console_scripts", name="clueprint")
    assert script.value == "clueprint.cli:main"


def test_help_names_every_command_and_the_exit_statuses(run):
    code, out, _ = run("--help")
    assert code == 0
    for name, command in COMMANDS.items():
        assert re.search(rf"^  {name} +{re.escape(command.summary)}", out, re.MULTILINE)
    assert "Exit status" in out


@pytest.mark.parametrize("name", COMMANDS)
def test_each_command_explains_each_of_its_options(run, name):
    code, out, _ = run(name, "--help")
    assert code == 0
    for parameter in COMMANDS[name].load().params:
        if parameter.param_type_name == "option":
            assert parameter.help
            assert any(option in out for option in parameter.opts)


def test_public_names_are_what_they_say():
    assert sorted(clueprint.__all__) == clueprint.__all__
    assert set(clueprint.__all__) <= set(dir(clueprint))
    for name in clueprint.__all__:
        value = getattr(clueprint, name)
        assert name == "draw_puzzle" or value.__name__ == name
        assert value.__doc__


def test_names_for_type_checkers_are_the_same_as_at_run_time():
    tree = ast.parse((ROOT / "clueprint" / "__init__.py").read_text(encoding="utf-8"))
    (guarded,) = (node for node in tree.body if isinstance(node, ast.If))
    declared = {
        alias.asname or alias.name: f"{node.module}:{alias.name}"
        for node in guarded.body
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    assert declared == clueprint._HOMES
    assert set(declared) == set(clueprint.__all__)


def test_no_such_name():
    with pytest.raises(AttributeError, match="frobnicate"):
        clueprint.frobnicate  # noqa: B018 - the look-up is what is tested


def test_importing_loads_nothing_heavy():
    program = f"import clueprint, sys; print(sorted(set({HEAVY!r}) & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, cwd=ROOT, check=True)
    assert done.stdout == "[]\n"


def test_type_hints_come_along():
    assert (ROOT / "clueprint" / "py.typed").is_file()


def test_everything_that_is_installed_is_pinned_and_nothing_by_address():
    pins = [line for line in (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines() if line]
    assert all(re.fullmatch(r"[A-Za-z0-9._-]+==[A-Za-z0-9.]+", pin) for pin in pins)
    pinned = {_canonical(pin.partition("==")[0]) for pin in pins}
    wanted = PROJECT["dependencies"] + PROJECT["optional-dependencies"]["dev"]
    assert {_canonical(re.match(r"[A-Za-z0-9._-]+", line)[0]) for line in wanted} <= pinned


def _canonical(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()
