# Two commands do everything: `make demo` and `make test`. Both set up first.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin

.PHONY: setup demo test check bench fonts clean

setup: $(VENV)/.ready

$(VENV)/.ready: pyproject.toml constraints.txt
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --constraint constraints.txt --editable '.[dev]'
	@touch $@

# Reads the demo pages, proves each puzzle and leaves files and pictures in out/demo.
demo: setup
	$(BIN)/python -m fixtures.demo out/demo

# Lint, types and tests: what CI runs.
test: check
	$(BIN)/python -m pytest

check: setup
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy

# Measures on the photos, the foreign pages and the printer's testing half; writes BENCH.md.
bench: setup
	$(BIN)/python -m fixtures.bench

# Debian font packages for training and bench; the only step that needs root.
fonts:
	apt-get install -y $$($(PYTHON) fixtures/fonts/packages.py)

clean:
	rm -rf $(VENV) out build *.egg-info
