// Command types prints, as one JSON document, what TypeScript must know of the
// engine's door: a JSON Schema of every question, answer, event body and door
// call, and the vocabularies of codes. It reads the Go sources, comments
// included, so that no screen ever mirrors a Go type by hand, and so that it
// works while the packages do not compile.
//
// Run it at the top of the module: go run ./pwa/core/types
package main

import (
	"encoding/json"
	"fmt"
	"os"
)

// document is what pwa/build/types.mjs turns into TypeScript: the engine's door
// with the vocabularies, and what the server's routes speak.
type document struct {
	Schema     *schema             `json:"schema"`
	Vocabulary map[string][]string `json:"vocabulary"`
	Server     *schema             `json:"server"`
}

func main() {
	doc, err := describe("sync/record", "sync/summary", "pwa/core/engine")
	if err == nil {
		doc.Server, err = describeServer("server/web")
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "types:", err)
		os.Exit(1)
	}
	out := json.NewEncoder(os.Stdout)
	out.SetIndent("", "  ")
	if err := out.Encode(doc); err != nil {
		fmt.Fprintln(os.Stderr, "types:", err)
		os.Exit(1)
	}
}

// describe reads the packages in the folders record, summary and door.
func describe(record, summary, door string) (*document, error) {
	src, err := readAll(record, summary, door)
	if err != nil {
		return nil, err
	}
	w := &writer{src: src, defs: map[string]*schema{}}
	root := object()
	root.Title = "Door"
	root.set("questions", w.questions())
	root.set("bodies", w.bodies())
	root.set("calls", w.spokenIn("engine"))
	root.Defs = w.defs
	return &document{Schema: root, Vocabulary: src.lists()}, w.err
}

// describeServer reads the types that the routes of the server speak: those of
// the folder that are exported and have a tag at every field.
func describeServer(folder string) (*schema, error) {
	src, err := readAll(folder)
	if err != nil {
		return nil, err
	}
	w := &writer{src: src, defs: map[string]*schema{}}
	root := w.spokenIn("web")
	root.Title, root.Defs = "Server", w.defs
	return root, w.err
}

func readAll(folders ...string) (*sources, error) {
	src := &sources{types: map[string]*declared{}, consts: map[string][]string{}, named: map[string]string{}}
	for _, folder := range folders {
		if err := src.read(folder); err != nil {
			return nil, err
		}
	}
	return src, nil
}
