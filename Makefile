# The one door for commands. `make help` lists them.
SHELL := /bin/bash
.SHELLFLAGS := -eu -o pipefail -c
.DEFAULT_GOAL := help
.DELETE_ON_ERROR:

ARGS ?=
MODULES := pwa/node_modules/.package-lock.json
BUILT := pwa/src/engine/built
WASM := $(BUILT)/engine.wasm
EXEC := $(BUILT)/wasm_exec.js
TYPES := pwa/src/engine/types.ts
APP := pwa/dist/index.html
BINARY := bin/jointwalk

gofiles = $(shell find $(1) -name '*.go' ! -name '*_test.go' 2>/dev/null)
ENGINE_FILES := $(call gofiles,calc sync pwa/core)
SERVER_FILES := $(call gofiles,server) $(shell find server -type f ! -name '*.go' 2>/dev/null)
APP_FILES := $(shell find pwa/src pwa/public pwa/build -type f ! -path '$(BUILT)/*' ! -name types.ts ! -name '*.test.ts' ! -name '*.test.tsx') \
	pwa/index.html pwa/vite.config.ts pwa/tsconfig.json

SEEDS ?= 20000

# Packages whose functions are called rather than copied into their callers: what that costs is not felt (a start with 20,000
# events takes 1 or 2 % longer), and the engine weighs about 25 kB less.
NOT_INLINED := jointwalk/calc/call jointwalk/calc/picture jointwalk/calc/quantity jointwalk/pwa/core/engine jointwalk/sync/exchange \
	jointwalk/sync/journal jointwalk/sync/record jointwalk/sync/summary

.PHONY: help run app wasm types binary test sim check audit tools browsers gallery demo long engines bench labels clean

help: ## list the commands
	@grep -hE '^[a-z]+:.*## ' $(MAKEFILE_LIST) | sed -E 's/^([a-z]+):.*## /  make \1\t/' | expand -t 16

run: $(BINARY) ## build what changed and serve http://localhost:8080, data in ./data (more flags: ARGS="…")
	./$(BINARY) --data ./data $(ARGS)

test: tools binary ## install what the tests need and run them all
	go vet ./...
	go test ./...
	GOOS=js GOARCH=wasm go test -exec "$$(go env GOROOT)/lib/wasm/go_js_wasm_exec" -run 'Examples|EveryLength' ./calc/call ./sync/sha
	cd pwa && npx tsc --noEmit && npx tsc --noEmit -p tsconfig.node.json
	cd pwa && npx vitest run
	cd pwa && npx playwright test

sim: ## tell SEEDS stories of the simulated world, then plant every bug and write down after how many stories, or by which test, each was found
	SEEDS=$(SEEDS) go test -count=1 -timeout 12h -v -run TestWorld ./sync/simworld
	BUGS=all go test -count=1 -timeout 12h -v -run TestPlantedBugs ./sync/simworld
	BUGS=all go test -count=1 -run TestPlantedChanges ./calc

check: test audit ## all tests, then the audit: what a release needs

# Each half needs the network, and fails without: an audit that did not see its list has found nothing.
GOVULNCHECK := golang.org/x/vuln/cmd/govulncheck@v1.9.0
UNSEEN := was not finished, so this is no pass: the list of known weaknesses could not be reached, as said above

audit: $(MODULES) ## hold what goes into the program against the public lists of known weaknesses, of Go and of npm
	@told=$$(go run $(GOVULNCHECK) ./... 2>&1) && echo "$$told" || { echo "$$told"; \
	  grep -q '^exit status 3$$' <<<"$$told" || echo "audit: govulncheck $(UNSEEN)"; exit 1; } >&2
	@told=$$(cd pwa && npm audit --omit=dev 2>&1) || true; echo "$$told"; \
	  if ! grep -q '^found 0 vulnerabilities' <<<"$$told"; then grep -q 'severity' <<<"$$told" || echo "audit: npm audit $(UNSEEN)"; exit 1; fi >&2

gallery: $(MODULES) $(WASM) $(EXEC) $(TYPES) ## every part of the screens in every state, at http://localhost:5173/gallery/
	cd pwa && npx vite

demo: $(BINARY) ## serve a throw-away installation: take "load the example" after the setup link
	@folder=$$(mktemp -d); trap 'rm -rf "$$folder"' EXIT; ./$(BINARY) --data "$$folder" $(ARGS)

# Counts are those required; a short run says others, and INTO=/some/folder so that the figures kept here stay.
SERVER_KILLS ?= 200
TAP_KILLS ?= 30
START_KILLS ?= 60
INTO ?= $(CURDIR)/pwa/long/figures
SEED ?=
LONG := LONG_INTO="$(INTO)" TAP_KILLS=$(TAP_KILLS) START_KILLS=$(START_KILLS) SEED=$(SEED) npx playwright test -c

long: browsers $(BINARY) ## an hour of kills, of server and browsers, and the engines; keeps its figures in pwa/long/figures
	@mkdir -p "$(INTO)"
	go run ./server/long -program $(BINARY) -kills $(SERVER_KILLS) $(if $(SEED),-seed $(SEED)) -into "$(INTO)"
	cd pwa && $(LONG) long
	cd pwa && $(LONG) engines

engines: browsers $(BINARY) ## capture, kill, sync in Chromium, Firefox and WebKit
	cd pwa && $(LONG) engines

labels: ## what still reads of a damaged label: writes testdata/labels/table.md
	UPDATE=1 go test ./server/paper -run Symbols
	cd pwa && LABELS=1 npx vitest run src/scan/damaged

bench: browsers $(BINARY) ## sizes, the engine's ledger by package, speed of the numbers, of the store, of the server under phones, of a phone's start and of what a thumb waits for, and a round against a paper sheet
	@go run ./pwa/core/ledger $(WASM) pwa/dist
	go run ./server/bench -program $(BINARY)
	cd pwa && npx playwright test -c bench
	go test -run '^$$' -bench . -benchtime 200ms ./calc/... ./sync/... ./pwa/core/...
	go test -run '^$$' -bench Push -benchtime 500ms ./server/store/bolt

app: $(APP) ## build the front end into pwa/dist
wasm: $(WASM) $(EXEC) ## build the engine
types: $(TYPES) ## make the TypeScript types from the Go types
binary: $(BINARY) ## build the server with the app inside

clean: ## remove what was built; ./data stays
	rm -rf bin $(BUILT) $(TYPES) pwa/src/link/types.ts pwa/node_modules/.cache
	find pwa/dist -mindepth 1 ! -name .gitkeep -delete

$(MODULES): pwa/package.json pwa/package-lock.json pwa/.npmrc
	cd pwa && PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD=1 npm ci --no-audit --no-fund
	@touch $@

$(WASM): $(ENGINE_FILES) go.mod go.sum
	@mkdir -p $(BUILT)
	GOOS=js GOARCH=wasm go build -trimpath -ldflags='-s -w' $(NOT_INLINED:%=-gcflags=%=-l) -o $@ ./pwa/core

$(EXEC): $(WASM)
	cp "$$(go env GOROOT)/lib/wasm/wasm_exec.js" $@
	@touch $@

$(TYPES): $(call gofiles,sync/record sync/summary pwa/core server/web) pwa/build/types.mjs $(MODULES)
	cd pwa && node build/types.mjs

$(APP): $(MODULES) $(WASM) $(EXEC) $(TYPES) $(APP_FILES)
	cd pwa && npx vite build --logLevel warn
	@touch $@

$(BINARY): $(APP) $(ENGINE_FILES) $(SERVER_FILES) pwa/embed.go go.mod go.sum
	go build -trimpath -ldflags="-s -w -X main.built=$$(git rev-parse --short=12 HEAD 2>/dev/null || echo unknown)" -o $@ ./server

# apt-get as whoever may; what follows are the names of packages.
install = sudo=; [ "$$(id -u)" = 0 ] || sudo=sudo; $$sudo apt-get update -qq && \
	DEBIAN_FRONTEND=noninteractive $$sudo apt-get install -y -qq --no-install-recommends

# What the tests need beyond Go, Node and make: a browser and the tool that makes it trust a certificate.
tools: $(MODULES)
	@command -v chromium >/dev/null && command -v certutil >/dev/null || { $(install) chromium libnss3-tools; }

# What the long runs need besides: the two other engines, and a screen for one of them.
browsers: tools
	@command -v firefox-esr >/dev/null && command -v WebKitWebDriver >/dev/null && command -v Xvfb >/dev/null || \
	  { $(install) firefox-esr webkit2gtk-driver xvfb; }
