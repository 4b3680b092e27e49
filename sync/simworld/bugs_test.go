package simworld

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// enough is how many stories a planted bug may take to be found.
const enough = 2000

// bug is a bug to be planted into shipped files, as edits: each old text must stand in its file once.
type bug struct {
	name  string
	About string `json:"about"`
	Quick bool   `json:"quick"` // planted by make test too, not by make sim only
	Edits []struct {
		File string `json:"file"`
		Old  string `json:"old"`
		New  string `json:"new"`
	} `json:"edits"`
}

// TestPlantedBugs plants bugs into the shipped files, one at a time, by an overlay of the build. The stories must find
// each. Those that are quick to find are planted every time; BUGS=all plants all and writes down how many stories each took,
// BUGS=name plants one.
func TestPlantedBugs(t *testing.T) {
	if os.Getenv("UNTIL") != "" {
		t.Fatal("a planted bug is looked for by TestWorld alone")
	}
	bugs, which := plantable(t), os.Getenv("BUGS")
	if len(bugs) < 20 {
		t.Fatalf("only %d bugs", len(bugs))
	}
	var found strings.Builder
	planted := 0
	for _, b := range bugs {
		if b.Quick || which == "all" || which == b.name {
			planted++
			t.Run(b.name, func(t *testing.T) { found.WriteString(b.find(t)) })
		}
	}
	if planted < 5 {
		t.Fatalf("only %d bugs planted", planted)
	}
	if which == "all" && !t.Failed() {
		text := "# After how many stories each planted bug was found\n\nWritten by `make sim`; at most 2,000 are allowed.\n\n| bug | what is wrong | stories | the law that broke |\n| --- | --- | ---: | --- |\n"
		must(0, os.WriteFile("../../testdata/bugs/found.md", []byte(text+found.String()), 0o644))
	}
}

// plantable reads the bugs, by name.
func plantable(t *testing.T) (bugs []bug) {
	t.Helper()
	for _, path := range must(filepath.Glob("../../testdata/bugs/*.json")) {
		b := bug{name: strings.TrimSuffix(filepath.Base(path), ".json")}
		must(0, json.Unmarshal(must(os.ReadFile(path)), &b))
		bugs = append(bugs, b)
	}
	return bugs
}

// overlay writes the changed files and says where they are, as go build -overlay reads it.
func (b bug) overlay(t *testing.T) string {
	t.Helper()
	folder, replace := t.TempDir(), map[string]string{}
	for i, edit := range b.Edits {
		path := must(filepath.Abs(filepath.Join("../..", edit.File)))
		from := path
		if before := replace[path]; before != "" {
			from = before
		}
		text := string(must(os.ReadFile(from)))
		if n := strings.Count(text, edit.Old); n != 1 {
			t.Fatalf("%s: the text that is to be changed stands there %d times:\n%s", edit.File, n, edit.Old)
		}
		to := filepath.Join(folder, fmt.Sprint(i)+".go")
		must(0, os.WriteFile(to, []byte(strings.Replace(text, edit.Old, edit.New, 1)), 0o600))
		replace[path] = to
	}
	path := filepath.Join(folder, "overlay.json")
	must(0, os.WriteFile(path, must(json.Marshal(map[string]any{"Replace": replace})), 0o600))
	return path
}

var brokenAfter = regexp.MustCompile(`BROKEN after (\d+) seeds, by seed \d+: (.*)`)

// find plants the bug and tells stories until a law is broken. It gives a row of the table.
func (b bug) find(t *testing.T) string {
	t.Helper()
	binary := filepath.Join(t.TempDir(), "planted.test")
	if out, err := exec.Command("go", "test", "-c", "-overlay", b.overlay(t), "-o", binary, ".").CombinedOutput(); err != nil {
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
	return fmt.Sprintf("| %s | %s | %s | %s |\n", b.name, b.About, law[1], lawOnly(law[2]))
}

// lawOnly leaves out what belongs to one story.
func lawOnly(text string) string {
	text, _, _ = strings.Cut(text, ": {")
	text = regexp.MustCompile(`[0-9a-f]{8}-[0-9a-f-]{27}(/\d+)?`).ReplaceAllString(text, "…")
	return strings.ReplaceAll(fmt.Sprintf("%.90s", text), "|", "/")
}
