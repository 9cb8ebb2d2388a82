# barstock: make demo, make test; the rest is for who works on it. 'make help' lists all.

BIN := .venv/bin
READY := .venv/.ready
READY_TO_TEST := .venv/.ready-to-test

.PHONY: help demo test lint types tests mutation random bench pages pictures constraints clean

help:
	@echo "make demo        plan and prove the sample wagon into demo/wagon/out"
	@echo "make test        lint, types and all tests"
	@echo "make mutation    spoil every route in every way; say what share the proof refuses"
	@echo "make random      draw parts by chance, plan and prove them; none may fail"
	@echo "make bench       times and memory of planning the wagon, of single answers, and of the bench pages"
	@echo "make pages       bring what docs/ and the README take from the program up to date"
	@echo "make pictures    make the documentation's pictures anew"
	@echo "make constraints write constraints.txt from what is installed"

demo: $(READY)
	mkdir -p demo/wagon
	cp src/barstock/samples/wagon/*.yaml demo/wagon/
	$(BIN)/barstock plan demo/wagon
	@echo
	@echo "Open demo/wagon/out/pack.pdf (to print) or demo/wagon/out/pack.html (to read)."
	@echo "The drawing is demo/wagon/build.yaml, the shop demo/wagon/workshop.yaml: change a number"
	@echo "and run: $(BIN)/barstock plan demo/wagon"

test: lint types tests

lint: $(READY_TO_TEST)
	$(BIN)/ruff check src tests scripts benchmarks
	$(BIN)/ruff format --check src tests scripts benchmarks

types: $(READY_TO_TEST)
	$(BIN)/mypy

tests: $(READY_TO_TEST)
	$(BIN)/pytest

mutation: $(READY_TO_TEST)
	$(BIN)/python scripts/mutation.py

random: $(READY_TO_TEST)
	$(BIN)/python benchmarks/random_parts.py
	$(BIN)/python benchmarks/random_builds.py
	$(BIN)/python benchmarks/meeting_cuts.py

bench: $(READY_TO_TEST)
	$(BIN)/python benchmarks/plan.py
	$(BIN)/python benchmarks/answers.py
	$(BIN)/python benchmarks/bench_load.py

pages: $(READY_TO_TEST)
	$(BIN)/python scripts/reference.py
	$(BIN)/python scripts/sources.py
	$(BIN)/python scripts/architecture.py
	$(BIN)/python scripts/walk.py

pictures: $(READY_TO_TEST)
	$(BIN)/python scripts/pictures.py

constraints: $(READY_TO_TEST)
	$(BIN)/pip freeze --exclude-editable | grep -E '^[A-Za-z0-9._-]+==' > constraints.txt

clean:
	rm -rf .venv demo .mypy_cache .ruff_cache .pytest_cache .hypothesis

$(READY): pyproject.toml constraints.txt scripts/install.sh
	sh scripts/install.sh .
	touch $@

$(READY_TO_TEST): pyproject.toml constraints.txt scripts/install.sh
	sh scripts/install.sh '.[dev]'
	touch $@ $(READY)
