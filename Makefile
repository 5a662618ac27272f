# Underblue's commands. `make` alone lists them. Needs git, make and Python 3.11 or later with pip; nothing else.

# uv is quicker where it is there, and not needed where it is not.
UV := $(shell command -v uv 2>/dev/null)
# The system's own Python where it will do: distributions build theirs with all optimizations. In one that somebody compiled without
# them plain loops took half as long again, and files of tests up to a tenth (own measurement).
PYTHON ?= $(or $(shell for one in /usr/bin/python3 python3; do \
	$$one -c 'import $(if $(UV),,pip, )sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null && echo $$one && break; done),python3)
PORT ?= 8000
ADDRESS ?= 127.0.0.1
# One more than most machines that test have cores: each waits now and then, for a browser, a worker or a stop.
WORKERS ?= 3

VENV := .venv
PY := $(VENV)/bin/python
# The browser driver's package brings a Node of its own: no other is needed.
NODE = $(firstword $(wildcard $(VENV)/lib/python3*/site-packages/playwright/driver/node))

.DEFAULT_GOAL := help
.PHONY: help setup grown demo serve person password close hand-over backup restore test lint bench bench-long schema browser lock \
	lint-python lint-imports lint-types lint-templates lint-assets lint-js lint-project lint-schema

help:  ## list these commands
	@awk -F ':.*## ' '/^[a-z-]+:.*## / { printf "  make %-11s %s\n", $$1, $$2 }' $(MAKEFILE_LIST)

# --- environment -----------------------------------------------------------------------------------------------------------------

# A bare Debian has a Python without ensurepip and a pip that may not touch the system: so an empty environment, filled from outside.
$(PY):
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "Underblue needs Python 3.11 or later; $(PYTHON) is" \
		"$$($(PYTHON) -V 2>&1). Name another one: make PYTHON=python3.12 …" >&2; exit 1; }
	@$(if $(UV),true,$(PYTHON) -m pip --version >/dev/null 2>&1) || { echo "$(PYTHON) has no pip. On Debian:" \
		"apt-get install python3-pip" >&2; exit 1; }
	$(PYTHON) -m venv --without-pip $(VENV)

ifdef UV
INSTALL = uv pip install --quiet --python $(PY) --require-hashes
else
INSTALL = $(PYTHON) -m pip --python $(PY) install --quiet --disable-pip-version-check --require-hashes
endif

# A stamp says what is installed, so that a second run has nothing to do.
$(VENV)/runtime.stamp: requirements.txt | $(PY)
	$(INSTALL) -r requirements.txt
	@touch $@

# All of the runtime's packages, at the same versions, and the tools.
$(VENV)/dev.stamp: requirements-dev.txt | $(PY)
	$(INSTALL) -r requirements-dev.txt
	@touch $@ $(VENV)/runtime.stamp

# And those of a set-up with PostgreSQL and object storage.
$(VENV)/grown.stamp: requirements-grown.txt | $(PY)
	$(INSTALL) -r requirements-grown.txt
	@touch $@ $(VENV)/runtime.stamp

grown: $(VENV)/grown.stamp  ## add to .venv what PostgreSQL and object storage need (README, "Grown")

setup: $(VENV)/dev.stamp  ## make .venv with everything to run, test and change Underblue

# --- running ---------------------------------------------------------------------------------------------------------------------

demo: $(VENV)/runtime.stamp  ## start Underblue with the demo board, at http://127.0.0.1:8000/ (PORT=… for another)
	$(PY) manage.py migrate --verbosity 0
	$(PY) manage.py collectstatic --no-input --verbosity 0
	$(PY) manage.py load_demo
	@exec $(PY) manage.py serve --port $(PORT) --with-demo

# What is one's own lies apart from the demo, whose passwords everybody knows.
OWN = UNDERBLUE_VAR=$${UNDERBLUE_VAR:-$(CURDIR)/.var/own}

serve: $(VENV)/runtime.stamp  ## start Underblue for your own comics, without the demo (PORT=…; ADDRESS=… of this machine for others too)
	@$(OWN) $(PY) manage.py migrate --verbosity 0
	@$(OWN) $(PY) manage.py collectstatic --no-input --verbosity 0
	@$(OWN) exec $(PY) manage.py serve --host $(ADDRESS) --port $(PORT)

person: $(VENV)/runtime.stamp  ## make an account there: make person NAME=wim (the first one; others come by links)
	@$(OWN) $(PY) manage.py migrate --verbosity 0
	@$(OWN) $(PY) manage.py add_person $(NAME)

password: $(VENV)/runtime.stamp  ## another password for somebody there who forgot it: make password NAME=wim
	@$(OWN) $(PY) manage.py set_password $(NAME)

close: $(VENV)/runtime.stamp  ## close the account of somebody there who left: make close NAME=wim
	@$(OWN) $(PY) manage.py close_account $(NAME)

hand-over: $(VENV)/runtime.stamp  ## what nobody runs any more, to somebody there: make hand-over NAME=wim BOARD=3 (or CLASS=…)
	@$(OWN) $(PY) manage.py hand_over $(NAME) $(if $(BOARD),--board $(BOARD)) $(if $(CLASS),--class $(CLASS))

backup: $(VENV)/runtime.stamp  ## copy everything there into a folder, while it runs: make backup DIR=/media/disk/underblue
	@$(OWN) $(PY) manage.py backup "$(DIR)"

restore: $(VENV)/runtime.stamp  ## put such a copy back, while it stands still: make restore DIR=/media/disk/underblue
	@$(OWN) $(PY) manage.py restore "$(DIR)"

# --- proving ---------------------------------------------------------------------------------------------------------------------

browser:
	@.ci/get-browser

test: $(VENV)/dev.stamp browser  ## run the whole suite, browser included (ARGS=… for pytest)
	@$(PY) -m pytest -n $(WORKERS) --dist loadfile $(ARGS)

bench: $(VENV)/dev.stamp  ## measure what is promised; writes .bench/latest.json (UNDERBLUE_DATA=… for real pages)
	$(PY) -m tests.bench

bench-long: $(VENV)/dev.stamp  ## the same, and what takes minutes
	$(PY) -m tests.bench --long

lint: lint-python lint-imports lint-types lint-templates lint-assets lint-js lint-project lint-schema  ## all that is checked without running the suite
	@echo "lint: all is well"

lint-python: $(VENV)/dev.stamp
	$(PY) -m ruff check .

lint-imports: $(VENV)/dev.stamp
	$(VENV)/bin/lint-imports

lint-types: $(VENV)/dev.stamp
	$(PY) -m mypy

lint-templates: $(VENV)/dev.stamp
	$(VENV)/bin/djlint board/templates --lint --quiet

lint-assets: $(VENV)/dev.stamp
	$(VENV)/bin/biome lint --config-path=.biome.json --error-on-warnings static tests/js

lint-js: $(VENV)/dev.stamp
	$(NODE) --test --test-reporter=dot "tests/js/**/*.test.js"

lint-project: $(VENV)/dev.stamp
	$(PY) manage.py check --fail-level WARNING
	$(PY) manage.py makemigrations --check --dry-run

lint-schema: $(VENV)/dev.stamp
	@mkdir -p .var
	$(PY) manage.py spectacular --validate --fail-on-warn --file .var/schema.yaml
	@diff -u api/schema.yaml .var/schema.yaml || { echo "The API changed: run 'make schema' and commit api/schema.yaml." >&2; exit 1; }

schema: $(VENV)/dev.stamp  ## write the API's OpenAPI description to api/schema.yaml
	$(PY) manage.py spectacular --validate --fail-on-warn --file api/schema.yaml

lock:  ## pin the versions of pyproject.toml again (needs uv)
	uv pip compile pyproject.toml --universal --generate-hashes --no-header --no-annotate --quiet -o requirements.txt
	uv pip compile pyproject.toml --extra grown --universal --generate-hashes --no-header --no-annotate --quiet -o requirements-grown.txt
	uv pip compile pyproject.toml --extra dev --universal --generate-hashes --no-header --no-annotate --quiet -o requirements-dev.txt
