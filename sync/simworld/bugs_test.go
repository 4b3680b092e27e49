package simworld

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"jointwalk/testdata/planted"
)

// enough is how many stories a planted bug may take to be found.
const enough = 2000

// bug is one that is planted here.
type bug struct{ planted.Bug }

// TestPlantedBugs plants bugs into the shipped files, one at a time, by an overlay of the build. The stories must find
// each. Those that are quick to find are planted every time; BUGS=all plants all and writes down how many stories each took,
// BUGS=name plants one.
func TestPlantedBugs(t *testing.T) {
	if os.Getenv("UNTIL") != "" {
		t.Fatal("a planted bug is looked for by TestWorld alone")
	}
	bugs, which := planted.Read(t, "../../testdata/bugs"), os.Getenv("BUGS")
	if len(bugs) < 20 {
		t.Fatalf("only %d bugs", len(bugs))
	}
	var found strings.Builder
	n := 0
	for _, b := range bugs {
		b.Overlay(t, "../..") // what is to be changed stands there still, in those that are not planted too
		if b.Quick || which == "all" || which == b.Name {
			n++
			t.Run(b.Name, func(t *testing.T) { found.WriteString(bug{b}.find(t)) })
		}
	}
	if n < 5 {
		t.Fatalf("only %d bugs planted", n)
	}
	if which == "all" && !t.Failed() {
		text := "# After how many stories each planted bug was found\n\nWritten by `make sim`; at most 2,000 are allowed.\n\n| bug | what is wrong | stories | the law that broke |\n| --- | --- | ---: | --- |\n"
		must(0, os.WriteFile("../../testdata/bugs/found.md", []byte(text+found.String()), 0o644))
	}
}

var brokenAfter = regexp.MustCompile(`BROKEN after (\d+) seeds, by seed \d+: (.*)`)

// find plants the bug and tells stories until a law is broken. It gives a row of the table.
func (b bug) find(t *testing.T) string {
	t.Helper()
	binary := filepath.Join(t.TempDir(), "planted.test")
	if out, err := exec.Command("go", "test", "-c", "-overlay", b.Overlay(t, "../.."), "-o", binary, ".").CombinedOutput(); err != nil {
		t.Fatalf("with the bug it does not build: %v\n%s", err, out)
	}
	run := exec.Command(binary, "-test.run", "^TestWorld$", "-test.timeout", "2h")
	run.Env = append(os.Environ(), "UNTIL=broken", fmt.Sprintf("SEEDS=%d", enough), "SEED=", "TRACE=")
	out, _ := run.CombinedOutput() // that it fails is what is wanted
	law := brokenAfter.FindStringSubmatch(string(out))
	if law == nil {
		t.Errorf("not found in %d stories: %s\n%.2000s", enough, b.About, out)
		return ""
	}
	t.Logf("found after %s stories: %.120s", law[1], law[2])
	return fmt.Sprintf("| %s | %s | %s | %s |\n", b.Name, b.About, law[1], lawOnly(law[2]))
}

// lawOnly leaves out what belongs to one story.
func lawOnly(text string) string {
	text, _, _ = strings.Cut(text, ": {")
	text = regexp.MustCompile(`[0-9a-f]{8}-[0-9a-f-]{27}(/\d+)?`).ReplaceAllString(text, "…")
	return strings.ReplaceAll(fmt.Sprintf("%.90s", text), "|", "/")
}
