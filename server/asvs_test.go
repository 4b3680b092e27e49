package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// table is ASVS.md as it is read: for each number of the list what is said of it.
type table struct {
	levels map[string]string // number → level, of the list beside this test
	rows   map[string]string // number → the last cell of its row
	faults []string
}

func (b *table) fault(format string, args ...any) {
	b.faults = append(b.faults, fmt.Sprintf(format, args...))
}

var rowOfTable = regexp.MustCompile(`(?m)^\| *([0-9][0-9., ]*?) *\|(.*)\|\s*$`)

// readTable holds the text against the list and against what the repository has.
func readTable(text, list string, has func(ref string) bool) *table {
	b := &table{levels: map[string]string{}, rows: map[string]string{}}
	for _, m := range regexp.MustCompile(`(?m)^(\d+\.\d+\.\d+) ([12])$`).FindAllStringSubmatch(list, -1) {
		b.levels[m[1]] = m[2]
	}
	for _, m := range rowOfTable.FindAllStringSubmatch(text, -1) {
		cells := strings.Split(m[2], "|")
		if len(cells) != 3 {
			b.fault("%s has %d cells", m[1], len(cells)+1)
		}
		b.row(m[1], strings.TrimSpace(cells[len(cells)-1]), has)
	}
	for number := range b.levels {
		if _, told := b.rows[number]; !told {
			b.fault("%s has no row", number)
		}
	}
	return b
}

// row takes in one row. Its numbers are single ones, sections (4.3) or chapters (10).
func (b *table) row(numbers, said string, has func(ref string) bool) {
	for part := range strings.SplitSeq(numbers, ",") {
		part, found := strings.TrimSpace(part), false
		for number := range b.levels {
			if number != part && !strings.HasPrefix(number, part+".") {
				continue
			}
			if found = true; b.rows[number] != "" {
				b.fault("%s is written twice", number)
			}
			b.rows[number] = said
		}
		if !found {
			b.fault("%s is no requirement of level 1 or 2", part)
		}
	}
	b.shown(numbers, said, has)
}

var (
	quoted = regexp.MustCompile("`([^`]+)`")
	kinds  = []string{"by test", "by document", "in part", "in code, no test", "not met yet", "not met", "does not apply"}
)

// shown holds that a row says one of the kinds, and that what it names is there.
func (b *table) shown(numbers, said string, has func(ref string) bool) {
	kind := saysOf(said)
	refs := quoted.FindAllStringSubmatch(said, -1)
	switch {
	case kind == "":
		b.fault("%s: %q begins with none of %q", numbers, said, kinds)
	case len(refs) == 0 && !strings.HasPrefix(kind, "not met") && kind != "does not apply":
		b.fault("%s names nothing that shows it", numbers)
	case kind == "by test" && !slices.ContainsFunc(refs, func(m []string) bool { return isTest(m[1]) }):
		b.fault("%s names no test", numbers)
	}
	for _, m := range refs {
		if !has(m[1]) {
			b.fault("%s names `%s`, which is not there", numbers, m[1])
		}
	}
}

func saysOf(said string) string {
	for _, kind := range kinds {
		if strings.HasPrefix(said, kind+":") {
			return kind
		}
	}
	return ""
}

func isTest(ref string) bool {
	return strings.HasPrefix(ref, "Test") || strings.HasPrefix(ref, "Fuzz") || strings.Contains(ref, ".spec.ts") || strings.Contains(ref, ".test.ts")
}

// repository is what a row may name: a test function of Go, a file, "file: title of a test", "file § heading".
type repository struct{ functions map[string]bool }

func readRepository(t *testing.T) repository {
	t.Helper()
	r := repository{map[string]bool{}}
	for _, house := range []string{"calc", "sync", "server", "pwa"} {
		eachFile(t, filepath.Join("..", house), func(name string) bool { return strings.HasSuffix(name, "_test.go") }, func(_ string, text []byte) {
			for _, m := range regexp.MustCompile(`(?m)^func ((?:Test|Fuzz)\w+)\(`).FindAllSubmatch(text, -1) {
				r.functions[string(m[1])] = true
			}
		})
	}
	return r
}

func (r repository) has(ref string) bool {
	if regexp.MustCompile(`^(Test|Fuzz)\w+$`).MatchString(ref) {
		return r.functions[ref]
	}
	file, title, titled := strings.Cut(ref, ": ")
	file, heading, headed := strings.Cut(file, " § ")
	text, err := os.ReadFile(filepath.Join("..", file))
	switch {
	case err != nil:
		return false
	case titled:
		return regexp.MustCompile(`\b(?:test|it)\(\s*['"\x60]` + regexp.QuoteMeta(title) + `['"\x60]`).Match(text)
	case headed:
		return regexp.MustCompile(`(?m)^#+ ` + regexp.QuoteMeta(heading) + `$`).Match(text)
	}
	return true
}

// Each requirement of level 1 and 2 has one row in ASVS.md, and what its row names is there.
func TestASVS(t *testing.T) {
	text, r := readText(t, "../ASVS.md"), readRepository(t)
	b := readTable(text, readText(t, "testdata/asvs-5.0.0.txt"), r.has)
	if len(b.levels) != 253 || len(r.functions) < 500 {
		t.Errorf("%d requirements, %d tests", len(b.levels), len(r.functions))
	}
	for _, fault := range b.faults {
		t.Error(fault)
	}
	if counts := b.counts(); !strings.Contains(text, counts) {
		t.Errorf("ASVS.md does not say how many are how:\n%s", counts)
	}
}

// counts says how many requirements of each kind there are.
func (b *table) counts() string {
	of := map[string]int{}
	for _, said := range b.rows {
		of[saysOf(said)]++
	}
	var parts []string
	for _, kind := range kinds {
		parts = append(parts, fmt.Sprintf("%d %s", of[kind], kind))
	}
	return fmt.Sprintf("Of %d requirements: %s.", len(b.levels), strings.Join(parts, "; "))
}

// A table that lacks a number, has one twice, or names what is gone is found out.
func TestASVSIsHeldToItsWord(t *testing.T) {
	const list = "1.1.1 2\n1.1.2 1\n1.2.1 2\n10.1.1 1\n"
	has := func(ref string) bool { return ref == "TestThere" || ref == "FILE.md § Keys" }
	const whole = "| 1.1.1 | a | b | by test: `TestThere` |\n| 1.1.2 | a | b | by document: `FILE.md § Keys` |\n| 1.2, 10 | a | – | does not apply: none |\n"
	for what, c := range map[string]struct{ text, fault string }{
		"whole":             {whole, ""},
		"a row is gone":     {strings.Replace(whole, "1.1.2", "1.1.2x", 1), "1.1.2 has no row"},
		"twice":             {whole + "| 1.2.1 | a | b | not met: x |\n", "1.2.1 is written twice"},
		"a test is gone":    {strings.Replace(whole, "There", "Gone", 1), "names `TestGone`"},
		"a heading is gone": {strings.Replace(whole, "Keys", "Key", 1), "names `FILE.md § Key`"},
		"no such number":    {whole + "| 3.3.3 | a | b | not met: x |\n", "3.3.3 is no requirement"},
		"shows nothing":     {strings.Replace(whole, "`TestThere`", "well", 1), "names nothing"},
		"shows no test":     {strings.Replace(whole, "by document", "by test", 1), "names no test"},
		"says nothing":      {strings.Replace(whole, "does not apply", "no", 1), "begins with none"},
		"a cell too many":   {strings.Replace(whole, "| a |", "| a | a |", 1), "5 cells"},
	} {
		faults := strings.Join(readTable(c.text, list, has).faults, "\n")
		if (c.fault == "") != (faults == "") || !strings.Contains(faults, c.fault) {
			t.Errorf("%s: %q", what, faults)
		}
	}
}
