# Two commands do everything: `make demo` and `make test`. Both set up first.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
# Parts of the bench to measure, such as `make bench PARTS="photos foreign"`; all of them when empty.
PARTS ?=
# The desk's page is tested in Chromium where the machine has one; what drives it takes 170 MB.
comma := ,
EXTRAS := dev$(if $(shell command -v chromium),$(comma)browser)
# Disk for the environment, and while it is set up for what is downloaded.
MEGABYTES := 1400

.PHONY: setup demo test check bench fonts all-fonts clean

setup: $(VENV)/.ready

$(VENV)/.ready: pyproject.toml constraints.txt
	@test -d $(BIN) || $(PYTHON) -c 'import shutil; free = shutil.disk_usage(".").free >> 20; raise SystemExit(free < $(MEGABYTES) and \
		f"setting up takes $(MEGABYTES) MB of disk, and {free} MB are free here: make room and run it again")'
	@echo "Setting up $(VENV): a minute or two, once"
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-cache-dir --only-binary :all: \
		--constraint constraints.txt --editable '.[$(EXTRAS)]'
	@touch $@

# Reads the demo pages, proves each puzzle and leaves files and pictures in out/demo.
demo: setup
	$(BIN)/python -m fixtures.demo out/demo

# Lint, types and tests: what CI runs. Two workers: the libraries are heavy, and few machines have one core. Each takes
# files as a whole, which read a page once for all their tests, until one has nothing left.
test: check
	OMP_NUM_THREADS=1 $(BIN)/python -m pytest -n 2 --dist worksteal

check: setup
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy

# Measures on the photos, the foreign pages and the printer's testing half; writes BENCH.md.
bench: setup
	OMP_NUM_THREADS=1 $(BIN)/python -m fixtures.bench $(PARTS)

# Debian font packages for training and bench; the only step that needs root.
fonts:
	apt-get install -y $$($(PYTHON) fixtures/fonts/packages.py)

# The same and some fifty packages more, half a gigabyte: founts to train on and founts that nobody trained on.
all-fonts:
	apt-get install -y $$($(PYTHON) fixtures/fonts/packages.py all)

clean:
	rm -rf $(VENV) out build *.egg-info
