package calc_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"jointwalk/testdata/published"
)

// Every case that is not derived is run by some test, by its id or a beginning of it, or stands in Unused with the reason:
// in one of the two, not in both.
func TestEveryCaseIsRun(t *testing.T) {
	asked := prefixes(t)
	known := map[string]bool{}
	for _, c := range published.All(t) {
		run := slices.ContainsFunc(asked, func(prefix string) bool { return strings.HasPrefix(c.ID, prefix) })
		_, unused := published.Unused[c.ID]
		if known[c.ID] = true; !run && !unused && !strings.HasPrefix(c.Kind, "derived") {
			t.Errorf("%s is run by no test, and no reason is given", c.ID)
		}
		if run && unused {
			t.Errorf("%s is run, and Unused says that it is not", c.ID)
		}
	}
	for _, id := range slices.Sorted(maps.Keys(published.Unused)) {
		if !known[id] || published.Unused[id] == "" {
			t.Errorf("Unused names %s, which is no case, or gives no reason", id)
		}
	}
}

func TestEveryCaseHasItsSource(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range published.All(t) {
		if c.Source == "" || c.Provenance == "" || c.Kind == "" || c.RelTol <= 0 || seen[c.ID] {
			t.Errorf("%s: no source, provenance, kind or tolerance, or it is there twice", c.ID)
		}
		seen[c.ID] = true
	}
}

// prefixes are what the tests ask Cases and One for, read off their sources.
func prefixes(t *testing.T) (found []string) {
	err := filepath.WalkDir(".", func(path string, _ fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		source, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, source, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if call, ok := n.(*ast.CallExpr); ok && len(call.Args) == 2 {
				found = append(found, asks(call)...)
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// asks is the literal that a call of Cases or One has.
func asks(call *ast.CallExpr) []string {
	name, ok := call.Fun.(*ast.SelectorExpr)
	if !ok || name.Sel.Name != "Cases" && name.Sel.Name != "One" {
		return nil
	}
	literal, ok := call.Args[1].(*ast.BasicLit)
	if !ok {
		return nil
	}
	text, err := strconv.Unquote(literal.Value)
	if err != nil {
		return nil
	}
	return []string{text}
}
