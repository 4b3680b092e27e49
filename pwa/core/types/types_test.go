package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const recordSource = `package record

// Kind names what happened.
type Kind string

const Seen Kind = "seen"

var Colours = []string{"red", "blue"}

// Amount is a quantity.
type Amount struct {
	Value float64 ` + "`json:\"value\"`" + `
	Unit  string  ` + "`json:\"unit,omitempty\"`" + `
}

var table = map[Kind]func() checked{Seen: func() checked { return new(Amount) }}
`

const summarySource = `package summary

type Mark string

const Ring Mark = "ring"

type HomeQuestion struct{}

type Home struct {
	Marks  []Mark            ` + "`json:\"marks\"`" + `
	Amount *record.Amount    ` + "`json:\"amount\"`" + `
	Names  map[string]string ` + "`json:\"names\"`" + `
	Raw    json.RawMessage   ` + "`json:\"raw\"`" + `
}

func (d *Desk) Home(q HomeQuestion) (Home, error) { return Home{}, nil }
`

const engineSource = `package engine

type Note struct {
	Key string ` + "`json:\"key\"`" + `
}

type hidden struct {
	Key string ` + "`json:\"key\"`" + `
}

type Engine struct{ book int }
`

func described(t *testing.T, record, summary, engine string) (*document, error) {
	t.Helper()
	home := t.TempDir()
	for name, text := range map[string]string{"record": record, "summary": summary, "engine": engine} {
		if err := os.Mkdir(filepath.Join(home, name), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(home, name, "a.go"), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return describe(filepath.Join(home, "record"), filepath.Join(home, "summary"), filepath.Join(home, "engine"))
}

func TestDescribe(t *testing.T) {
	doc, err := described(t, recordSource, summarySource, engineSource)
	if err != nil {
		t.Fatal(err)
	}
	root := doc.Schema
	if got := root.Properties["questions"].Properties["home"].Properties["answer"].Ref; got != "#/$defs/Home" {
		t.Errorf("answer of home: %q", got)
	}
	if got := root.Properties["bodies"].Properties["seen"].Ref; got != "#/$defs/Amount" {
		t.Errorf("body of seen: %q", got)
	}
	if calls := root.Properties["calls"].Properties; len(calls) != 1 || calls["note"] == nil {
		t.Errorf("calls: %v", calls)
	}
	amount, home := root.Defs["Amount"], root.Defs["Home"]
	if !slices.Equal(amount.Required, []string{"value"}) || amount.Description != "Amount is a quantity." {
		t.Errorf("amount: %+v", amount)
	}
	if mark := root.Defs["Mark"]; !slices.Equal(mark.Enum, []string{"ring"}) {
		t.Errorf("mark: %+v", mark)
	}
	if p := home.Properties; p["marks"].Type != "array" || p["names"].Type != "object" || p["raw"].Is != "unknown" ||
		len(p["amount"].AnyOf) != 2 || p["amount"].AnyOf[1].Type != "null" {
		t.Errorf("home: %+v", p)
	}
	if got := doc.Vocabulary["colours"]; !slices.Equal(got, []string{"red", "blue"}) {
		t.Errorf("colours: %v", got)
	}
}

func TestWhatCannotBeDescribedIsAFault(t *testing.T) {
	cases := map[string][3]string{
		"a field without a tag": {recordSource, strings.Replace(summarySource, "`json:\"marks\"`", "", 1), engineSource},
		"a type of nowhere":     {recordSource, strings.Replace(summarySource, "record.Amount", "record.Gone", 1), engineSource},
		"a channel":             {recordSource, strings.Replace(summarySource, "map[string]string", "chan int", 1), engineSource},
		"two types of one name": {recordSource, summarySource, strings.Replace(engineSource, "Note", "Home", 1)},
		"no table of kinds":     {strings.Replace(recordSource, "new(Amount)", "nil", 1), summarySource, engineSource},
		"no questions":          {recordSource, strings.Replace(summarySource, "(d *Desk)", "", 1), engineSource},
		"no Go":                 {recordSource, "package", engineSource},
	}
	for name, c := range cases {
		if _, err := described(t, c[0], c[1], c[2]); err == nil {
			t.Errorf("%s was described", name)
		}
	}
}

func TestTheSourcesOfThisHouse(t *testing.T) {
	doc, err := describe("../../../sync/record", "../../../sync/summary", "../engine")
	if err != nil {
		t.Fatal(err)
	}
	questions := doc.Schema.Properties["questions"].Properties
	for _, name := range []string{"home", "tag", "fixture", "round", "findings", "finding", "estimate", "watch"} {
		if questions[name] == nil {
			t.Errorf("no question %s", name)
		}
	}
	if kinds := doc.Schema.Properties["bodies"].Properties; len(kinds) != len(doc.Schema.Defs["Kind"].Enum) {
		t.Errorf("%d bodies for %d kinds", len(kinds), len(doc.Schema.Defs["Kind"].Enum))
	}
}

func TestTheServersTypes(t *testing.T) {
	folder := t.TempDir()
	source := "package web\n\ntype Problem struct {\n\tCode string `json:\"code\"`\n\tAt time.Time `json:\"at\"`\n\tcause error\n}\n\ntype Parts struct{ Log int }\n"
	if err := os.WriteFile(filepath.Join(folder, "a.go"), []byte(source), 0o600); err != nil {
		t.Fatal(err)
	}
	doc, err := describeServer(folder)
	if err != nil {
		t.Fatal(err)
	}
	problem := doc.Defs["Problem"]
	if len(doc.Defs) != 1 || !slices.Equal(problem.Required, []string{"code", "at"}) || problem.Properties["at"].Type != "string" {
		t.Errorf("%+v", doc.Defs)
	}
	if _, err := describeServer("../../../server/web"); err != nil {
		t.Error(err)
	}
}
