# The commands of the README. Steps run again only when what they depend on has changed.

VENV := .venv
BIN := $(VENV)/bin
ADDRESS := 127.0.0.1:8000
export NO_MKDOCS_2_WARNING := 1
export PIP_DISABLE_PIP_VERSION_CHECK := 1

.PHONY: serve build kit test bench fuzz lighthouse clean

serve: $(VENV)/.installed
	$(BIN)/mkdocs serve --dev-addr $(ADDRESS) --watch overrides

build: $(VENV)/.installed
	$(BIN)/mkdocs build --strict

kit: $(VENV)/.installed
	$(BIN)/fifthpeg kit

test: $(VENV)/.installed-for-tests
	browser=$$(.ci/browser) && font=$$(.ci/soundfont) && onsets=$$(.ci/aubioonset) && \
	FIFTHPEG_BROWSER="$$browser" FIFTHPEG_SOUNDFONT="$$font" FIFTHPEG_AUBIOONSET="$$onsets" \
	$(BIN)/python -m pytest -rs --numprocesses auto --dist loadfile $(TESTS)

bench: $(VENV)/.installed-for-tests
	font=$$(.ci/soundfont) && FIFTHPEG_SOUNDFONT="$$font" $(BIN)/python -m tests.bench

fuzz: $(VENV)/.installed-for-tests
	$(BIN)/python -m tests.fuzz

lighthouse: build
	CHROME_PATH=$$(.ci/browser) $(BIN)/python -m tests.lighthouse site

clean:
	rm -rf site kit .cache build dist .pytest_cache .hypothesis plugins/*.egg-info

$(VENV)/.made:
	.ci/venv $(VENV)
	touch $@

$(VENV)/.installed: $(VENV)/.made pyproject.toml .ci/constraints.txt
	$(BIN)/python -m pip install --quiet --no-compile --constraint .ci/constraints.txt --editable .
	touch $@

$(VENV)/.installed-for-tests: $(VENV)/.installed
	$(BIN)/python -m pip install --quiet --no-compile --constraint .ci/constraints.txt --editable ".[test]"
	touch $@
