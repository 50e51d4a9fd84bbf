"""The command line as tests call it.

Known faults are listed in one place and run all the same; one that is mended must leave the list. Property tests are
not failed for the time that they take: a loaded machine makes no rule wrong."""

import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from clueprint import cli

settings.register_profile("any machine", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("any machine")

_FAULTS = Path(__file__).with_name("known_faults.txt")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    lines = [line.split(" # ") for line in _FAULTS.read_text(encoding="utf-8").splitlines() if line.strip()]
    faults = {name.strip(): why.strip() for name, why in lines}
    for item in items:
        if item.nodeid in faults:
            item.add_marker(pytest.mark.xfail(reason=faults[item.nodeid], strict=True))


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
