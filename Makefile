# Every command a person needs. CMake does the work; the presets are in CMakePresets.json.
JOBS ?= $(shell nproc)
RIBBAY = build/ribbay

.PHONY: build demo gallery reference test setup setup-test setup-tools format tidy asan benchmark fuzz clean

build: setup build/build.ninja
	cmake --build build --target ribbay --parallel $(JOBS)

# The demo van, and the same project in a shorter van.
demo: build
	$(RIBBAY) build params/marsh/marsh.toml
	$(RIBBAY) build params/marsh/marsh.toml --set project.vehicle=params/vehicles/long_mid.toml --out outputs/marsh_long_mid

# The README's pictures, drawn again; a test compares them.
gallery: build
	$(RIBBAY) build params/marsh/marsh.toml --only drawings --out outputs/gallery_now --quiet
	for f in $(notdir $(wildcard outputs/gallery/*.svg)); do cp outputs/gallery_now/drawings/$$f outputs/gallery/; done
	rm -r outputs/gallery_now

# The parameter reference, its pictures and the schemas for editors, written again; tests compare them.
reference: build
	for f in $(notdir $(basename $(wildcard params/examples/*.toml))); do \
	  $(RIBBAY) build params/examples/$$f.toml --only pictures --out outputs/pictures_now/$$f --quiet && \
	  cp outputs/pictures_now/$$f/pictures/*$$f*.svg params/pictures/$$f.svg || exit 1; done
	rm -r outputs/pictures_now
	$(RIBBAY) explain --markdown > params/REFERENCE.md
	$(RIBBAY) explain --json-schema project > params/project.schema.json
	$(RIBBAY) explain --json-schema vehicle > params/vehicle.schema.json

test: setup-test build/build.ninja
	cmake --build build --parallel $(JOBS)
	cmake --build build --target all_verify_interface_header_sets --parallel $(JOBS)
	ctest --preset release --parallel 2

setup:
	@.ci/setup build

setup-test:
	@.ci/setup build test

setup-tools:
	@.ci/setup build test tools

build/build.ninja: CMakePresets.json | setup
	cmake --preset release

format: setup-tools
	git ls-files '*.cpp' '*.hpp' | xargs clang-format -i

tidy: setup-tools
	cmake --preset tidy
	git ls-files 'modeler/*.cpp' 'exporters/*.cpp' | xargs -P 2 -n 1 clang-tidy -p build-tidy --quiet

asan: setup-test
	cmake --preset asan
	cmake --build build-asan --parallel $(JOBS)
	ctest --preset asan --parallel 2

benchmark: setup-test
	@.ci/setup benchmark
	cmake --preset release
	cmake --build build --target benchmarks --parallel $(JOBS)
	build/benchmarks

# Feeds the readers with made-up inputs for an hour each: optimised, under their memory limit.
FUZZ_SECONDS ?= 3600
fuzz: setup-test
	tests/fuzz/run.sh long build-fuzz $(FUZZ_SECONDS)

clean:
	rm -rf build build-dev build-asan build-tidy build-fuzz
