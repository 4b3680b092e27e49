package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// arrow allows packages under From to import packages under To, with the
// reason. What no arrow allows fails; an arrow that nothing uses fails too.
type arrow struct{ from, to, reason string }

var arrows = []arrow{
	{"calc/...", "calc/...", "numbers stand on numbers, and on nothing else of ours"},
	{"sync/...", "sync/lightjson", "lines and answers are JSON, on the phone without the standard library's weight"},
	{"sync/...", "sync/sha", "and digests too"},
	{"sync/record/...", "sync/journal/...", "kinds are read off journal events"},
	{"sync/record/schema", "sync/record", "the schema is made from the bodies"},
	{"sync/exchange/...", "sync/journal/...", "push and pull move lines and know no kinds"},
	{"sync/summary/...", "sync/record/...", "a screen's answer is made of records"},
	{"sync/summary/...", "calc/...", "and of numbers"},
	{"sync/simworld", "sync/...", "the simulated world runs the shipped journal, exchange and record"},
	{"sync/simworld", "server/store/...", "and the shipped store; it is a test and nothing else"},
	{"sync/simworld", "testdata/planted", "with bugs planted into both"},
	{"server/store/...", "sync/journal/...", "a store keeps lines"},
	{"server/store/...", "sync/exchange/...", "and takes them as the exchange hands them over"},
	{"server/store/...", "server/store/...", "bolt and memory fill in the store's own interfaces"},
	{"server/album", "server/store", "an album drops the blobs of pictures that were withdrawn"},
	{"server/album", "sync/record", "which it finds in the records"},
	{"server/album", "sync/exchange", "as lines come into the feeds"},
	{"server/album", "sync/journal", "and reads them off these"},
	{"sync/simworld", "server/album", "and what drops withdrawn pictures"},
	{"server/people/...", "server/store/...", "people are rows of the store"},
	{"server/example/...", "sync/journal/...", "the invented year is written as lines"},
	{"server/example/...", "sync/record/...", "of known kinds"},
	{"server/example/...", "sync/summary/...", "with the figures that would have stood on the phone"},
	{"server/long", "server/example", "the program that kills the server pushes the invented year"},
	{"server/long", "sync/journal", "as lines"},
	{"server/long", "sync/exchange", "and reads the server's word about them as a phone does"},
	{"server/bench", "server/people", "the program that measures the server makes its phones before the start: pairing them one by one would be slowed down"},
	{"server/bench", "server/store/bolt", "and fills its store, as if phones had pushed long ago"},
	{"server/bench", "sync/...", "with events that the shipped phone's side writes, pushes and pulls"},
	{"server/formats/...", "sync/...", "what is frozen is made by the packages that read it"},
	{"server/formats/...", "server/store/...", "a frozen store is made by the store"},
	{"server/web/...", "sync/...", "web hands screens' questions and phones' lines on"},
	{"server/web/...", "calc/...", "and calculations, by the table that describes them"},
	{"pwa/core/...", "sync/...", "the phone's door to the journal and the answers"},
	{"pwa/core/...", "calc/...", "and to the calculations"},
	{"pwa/core", "pwa/core/engine", "the door is thin; what stands behind it is tested without a browser"},
	{"server", "server/...", "main wires the adapters, which never know each other"},
	{"server", "sync/exchange", "main hands the store to the exchange for the example's year"},
	{"server", "sync/journal", "of lines"},
	{"server", "pwa", "and serves the app"},
}

const module = "jointwalk"

func TestArrowsPointDown(t *testing.T) {
	used := map[arrow]bool{}
	for from, imports := range ownImports(t) {
		for _, to := range imports {
			allowed := allowing(from, to)
			if allowed == nil {
				t.Errorf("%s imports %s: no arrow allows it", from, to)
				continue
			}
			used[*allowed] = true
		}
	}
	for _, a := range arrows {
		if !used[a] {
			t.Errorf("stale arrow: nothing under %s imports anything under %s (%s)", a.from, a.to, a.reason)
		}
	}
}

// allowing returns the arrow that allows an import, nil when none does.
func allowing(from, to string) *arrow {
	for i, a := range arrows {
		if room(from, a.from) && room(to, a.to) {
			return &arrows[i]
		}
	}
	return nil
}

// room says whether a package stands in a room. A name that ends in "/..." means
// all below it; "server" alone is package main.
func room(path, name string) bool {
	below, all := strings.CutSuffix(name, "/...")
	return path == below || all && strings.HasPrefix(path, below+"/")
}

// testsOnly are packages that are nothing but tests: their test files count.
var testsOnly = []string{"sync/simworld"}

// ownImports lists, for every package of ours, whatever it is built for, the
// packages of ours that it imports (tests left out, but for testsOnly). It reads the files itself,
// so that a changed import is never hidden by a cached result.
func ownImports(t *testing.T) map[string][]string {
	t.Helper()
	all := map[string][]string{}
	for _, house := range []string{"calc", "sync", "server", "pwa"} {
		root := filepath.Join("..", house)
		err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
			if entry.IsDir() && (entry.Name() == "node_modules" || entry.Name() == "testdata") {
				return fs.SkipDir
			}
			if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") && !slices.Contains(testsOnly, folderOf(path)) {
				return err
			}
			return readImports(path, all)
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if len(all) < 10 {
		t.Fatalf("only %d packages found", len(all))
	}
	return all
}

// folderOf is the folder of a file, from the root of the project.
func folderOf(path string) string {
	return filepath.ToSlash(strings.TrimPrefix(filepath.Dir(path), ".."+string(filepath.Separator)))
}

func readImports(path string, into map[string][]string) error {
	file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
	if err != nil {
		return err
	}
	from := folderOf(path)
	for _, spec := range file.Imports {
		own, ok := strings.CutPrefix(strings.Trim(spec.Path.Value, `"`), module+"/")
		if ok && !slices.Contains(into[from], own) {
			into[from] = append(into[from], own)
		}
	}
	return nil
}
