package formats

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"jointwalk/sync/journal"
	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

// frozen is what stands in one folder of testdata/journals.
type frozen struct {
	folder   string
	lines    []journal.Line
	receipts []journal.Receipt
	expected struct {
		Sites   []summary.SiteName `json:"sites"`
		People  map[string]string  `json:"people"`
		Answers []struct {
			Question string          `json:"question"`
			Args     json.RawMessage `json:"args"`
			Answer   any             `json:"answer"`
		} `json:"answers"`
	}
}

// eachFrozen runs a test on everything that was ever frozen.
func eachFrozen(t *testing.T, run func(*testing.T, *frozen)) {
	t.Helper()
	folders, err := filepath.Glob("../../testdata/journals/[^.]*")
	if err != nil || len(folders) == 0 {
		t.Fatalf("nothing is frozen: %v", err)
	}
	for _, folder := range folders {
		t.Run(filepath.Base(folder), func(t *testing.T) { run(t, readFrozen(t, folder)) })
	}
}

func readFrozen(t *testing.T, folder string) *frozen {
	t.Helper()
	f := &frozen{folder: folder}
	for _, line := range bytes.Split(bytes.TrimSuffix(read(t, folder, "journal.ndjson"), []byte("\n")), []byte("\n")) {
		f.lines = append(f.lines, line)
	}
	for _, line := range bytes.Split(bytes.TrimSuffix(read(t, folder, "receipts.ndjson"), []byte("\n")), []byte("\n")) {
		r, err := journal.ParseReceipt(line)
		if err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		f.receipts = append(f.receipts, r)
	}
	if err := json.Unmarshal(read(t, folder, "expected.json"), &f.expected); err != nil {
		t.Fatal(err)
	}
	if len(f.lines) < 30 || len(f.lines) != len(f.receipts) || len(f.expected.Answers) < 9 {
		t.Fatalf("%d lines, %d receipts, %d answers", len(f.lines), len(f.receipts), len(f.expected.Answers))
	}
	return f
}

func read(t *testing.T, path ...string) []byte {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(path...))
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

// answers holds what a book answers against what was expected when it was frozen.
func (f *frozen) answers(t *testing.T, book *record.Book) {
	t.Helper()
	desk := summary.NewDesk(book, summary.Names{Sites: f.expected.Sites, People: f.expected.People})
	for _, want := range f.expected.Answers {
		answer, err := summary.Ask(desk, want.Question, want.Args)
		if err != nil {
			t.Errorf("%s %s: %v", want.Question, want.Args, err)
			continue
		}
		raw, err := json.Marshal(answer)
		if err != nil {
			t.Fatal(err)
		}
		var got any
		if err := json.Unmarshal(raw, &got); err != nil {
			t.Fatal(err)
		}
		for _, differs := range differences(want.Question, want.Answer, got) {
			t.Error(differs)
		}
	}
}

// differences tells where an answer is not what it was. Fields may have been
// added since; numbers may differ in the last bits from processor to processor.
func differences(where string, want, got any) []string {
	switch want := want.(type) {
	case map[string]any:
		return inObject(where, want, got)
	case []any:
		return inList(where, want, got)
	case float64:
		if n, ok := got.(float64); ok && math.Abs(n-want) <= 1e-9*math.Abs(want) {
			return nil
		}
	default:
		if want == got {
			return nil
		}
	}
	return []string{fmt.Sprintf("%s: %v, want %v", where, got, want)}
}

func inObject(where string, want map[string]any, got any) (all []string) {
	is, ok := got.(map[string]any)
	if !ok {
		return []string{fmt.Sprintf("%s: %v is no object", where, got)}
	}
	for name, value := range want {
		all = append(all, differences(where+"."+name, value, is[name])...)
	}
	return all
}

func inList(where string, want []any, got any) (all []string) {
	is, ok := got.([]any)
	if !ok || len(is) != len(want) {
		return []string{fmt.Sprintf("%s: %v, want %d of them", where, got, len(want))}
	}
	for i, value := range want {
		all = append(all, differences(fmt.Sprintf("%s[%d]", where, i), value, is[i])...)
	}
	return all
}

func TestDifferencesAreSeen(t *testing.T) {
	want := map[string]any{"a": 1.0, "b": []any{"x", map[string]any{"c": nil, "d": true}}}
	same := map[string]any{"a": 1 + 1e-12, "b": []any{"x", map[string]any{"c": nil, "d": true, "new": 1.0}}, "more": "y"}
	if all := differences("", want, same); len(all) != 0 {
		t.Errorf("additions are no differences: %v", all)
	}
	for _, other := range []any{
		nil, map[string]any{}, map[string]any{"a": 1.001, "b": want["b"]}, map[string]any{"a": "1", "b": want["b"]},
		map[string]any{"a": 1.0, "b": []any{"x"}}, map[string]any{"a": 1.0, "b": []any{"y", map[string]any{"d": true}}},
		map[string]any{"a": 1.0, "b": []any{"x", map[string]any{"d": false}}}, map[string]any{"a": 1.0, "b": "x"},
	} {
		if all := differences("", want, other); len(all) == 0 {
			t.Errorf("%v is not %v", other, want)
		}
	}
}

// Every line reads as it did, chains, fits the schema, and folds to what it did.
func TestFrozenJournalsFold(t *testing.T) {
	s := compiled(t, "event.json")
	eachFrozen(t, func(t *testing.T, f *frozen) {
		book, heads := record.NewBook(), map[string]string{}
		for i, line := range f.lines {
			e, err := journal.Parse(line)
			if err != nil {
				t.Fatalf("line %d: %v", i, err)
			}
			if err := record.CheckBody(e.Kind, e.V, e.Body); err != nil {
				t.Errorf("line %d: %v", i, err)
			}
			if err := validates(t, s, line); err != nil {
				t.Errorf("line %d: %v", i, err)
			}
			if e.Prev != heads[e.Log] {
				t.Errorf("line %d does not chain", i)
			}
			heads[e.Log] = journal.Hash(line)
			book.AddReceived(e, f.receipts[i])
		}
		f.answers(t, book)
	})
}

// Every kind that was ever released stands in a frozen journal, with every
// version.
func TestEveryReleasedKindIsFrozen(t *testing.T) {
	var released struct {
		AllOf []struct {
			If struct {
				Properties struct {
					Kind struct{ Const string }
					V    struct{ Const int }
				}
			}
		}
	}
	if err := json.Unmarshal(read(t, "../../sync/record/schema/released/event.json"), &released); err != nil {
		t.Fatal(err)
	}
	have := map[string]bool{}
	eachFrozen(t, func(t *testing.T, f *frozen) {
		for _, line := range f.lines {
			e, err := journal.Parse(line)
			if err != nil {
				t.Fatal(err)
			}
			have[fmt.Sprint(e.Kind, e.V)] = true
		}
	})
	for _, entry := range released.AllOf {
		p := entry.If.Properties
		if !have[fmt.Sprint(p.Kind.Const, p.V.Const)] {
			t.Errorf("%s, version %d, is in no frozen journal", p.Kind.Const, p.V.Const)
		}
	}
	if len(released.AllOf) < 15 {
		t.Errorf("only %d kinds are released", len(released.AllOf))
	}
}
