"""The command line as tests call it."""

import sys

import pytest

from clueprint import cli


@pytest.fixture
def run(capsys, monkeypatch):
    """Calls `clueprint ARGUMENTS...`: its exit status, standard output and standard error."""

    def runs(*arguments):
        monkeypatch.setattr(sys, "argv", ["clueprint", *map(str, arguments)])
        with pytest.raises(SystemExit) as stopped:
            cli.main()
        out, err = capsys.readouterr()
        return stopped.value.code, out, err

    return runs
