package calc_test

import (
	"fmt"
	"os"
	"os/exec"
	"path"
	"regexp"
	"strings"
	"testing"

	"jointwalk/testdata/planted"
)

const bugs = "../testdata/bugs/calc"

// TestPlantedChanges plants wrong constants, swapped pressures and lost factors into the calculations, one at a time: a test of
// the changed package has to fail by it. Three are planted every time; BUGS=all plants all and writes down which test caught
// each, BUGS=name plants one.
func TestPlantedChanges(t *testing.T) {
	all, which := planted.Read(t, bugs), os.Getenv("BUGS")
	if len(all) < 10 {
		t.Fatalf("only %d changes", len(all))
	}
	var found strings.Builder
	n := 0
	for _, b := range all {
		if b.Quick || which == "all" || which == b.Name {
			n++
			t.Run(b.Name, func(t *testing.T) { found.WriteString(catch(t, b)) })
		}
	}
	if n < 3 {
		t.Fatalf("only %d changes planted", n)
	}
	if which == "all" && !t.Failed() {
		text := "# Which test caught each planted change\n\nWritten by `make sim`. The long tests of coverage are left out.\n\n| change | what is wrong | caught by |\n| --- | --- | --- |\n"
		if err := os.WriteFile(bugs+"/caught.md", []byte(text+found.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

var failed = regexp.MustCompile(`(?m)^--- FAIL: (\S+)`)

// catch plants a change and runs the tests of its package. It gives a row of the table.
func catch(t *testing.T, b planted.Bug) string {
	t.Helper()
	folder := "../" + path.Dir(b.Edits[0].File)
	out, err := exec.Command("go", "test", "-vet=off", "-count=1", "-skip", "Coverage|HoldsTheTruth|Laws?[A-Z]?", "-overlay", b.Overlay(t, ".."), folder).CombinedOutput()
	names := failed.FindAllStringSubmatch(string(out), -1)
	if err == nil || len(names) == 0 {
		t.Errorf("no test of %s caught it: %s\n%.1000s", folder, b.About, out)
		return ""
	}
	var tests []string
	for _, name := range names {
		tests = append(tests, name[1])
	}
	return fmt.Sprintf("| %s | %s | %s: %s |\n", b.Name, b.About, path.Dir(b.Edits[0].File), strings.Join(tests, ", "))
}
