package main

import (
	"encoding/json"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// never is something that our code does without, with what it would open.
type never struct{ what, reason string }

// neverImported by the program, in packages of ours.
var neverImported = []never{
	{"unsafe", "memory is Go's to keep"},
	{"C", "and nobody else's"},
	{"plugin", "all code is there when it is built"},
	{"os/exec", "no other program is started, so no word of a caller reaches one"},
	{"encoding/xml", "no XML, so none of its entities"},
	{"encoding/gob", "what comes in is JSON of known types"},
	{"net/rpc", "and no remote calls"},
	{"net/smtp", "no mail"},
	{"database/sql", "the store knows keys, not queries"},
	{"text/template", "pages are escaped by html/template"},
	{"expvar", "nothing about the inside is published"},
	{"net/http/pprof", "and there is no door for debugging"},
	{"net/http/httptest", "test code stays in tests"},
	{"testing", "so does this"},
	{"log", "there is one log, of log/slog, which main makes and hands on"},
	{"crypto/md5", "broken"},
	{"crypto/des", "broken"},
	{"crypto/rc4", "broken"},
	{"math/rand", "what must not be guessed comes from crypto/rand"},
	{"math/rand/v2", "as above"},
}

// mayImport are exceptions, each with its reason; one that is used no more fails.
var mayImport = map[string]string{
	"sync/sha crypto/sha1": "UUIDv5 is made with SHA-1 (RFC 9562, 5.5); a fixture's id is a name and no secret",
}

func TestWhatTheProgramNeverImports(t *testing.T) {
	forbidden := map[string]string{"crypto/sha1": "broken"}
	for _, n := range neverImported {
		forbidden[n.what] = n.reason
	}
	used, imports := map[string]bool{}, map[string][]string{}
	packages := programPackages(t, imports)
	for _, from := range packages {
		for _, to := range imports[from] {
			reason, no := forbidden[to]
			if used[from+" "+to] = no; no && mayImport[from+" "+to] == "" {
				t.Errorf("%s imports %s: %s", from, to, reason)
			}
		}
	}
	for exception := range mayImport {
		if !used[exception] {
			t.Errorf("%q is an exception that nothing uses", exception)
		}
	}
	for _, from := range packages {
		if slices.Contains([]string{"server/long", "server/bench", "server/store/storetest", "server/store/memory", "sync/simworld"}, from) {
			t.Errorf("%s is for tests and stands in the program", from)
		}
	}
}

// programPackages are those of ours that the server is built of; imports takes all imports of all packages.
func programPackages(t *testing.T, imports map[string][]string) (reached []string) {
	t.Helper()
	eachGoFile(t, func(name string, _ []byte) {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, spec := range file.Imports {
			imports[folderOf(name)] = append(imports[folderOf(name)], strings.Trim(spec.Path.Value, `"`))
		}
	})
	for todo := []string{"server"}; len(todo) > 0; todo = todo[1:] {
		if slices.Contains(reached, todo[0]) {
			continue
		}
		reached = append(reached, todo[0])
		for _, to := range imports[todo[0]] {
			if own, ok := strings.CutPrefix(to, module+"/"); ok {
				todo = append(todo, own)
			}
		}
	}
	if len(reached) < 20 {
		t.Fatalf("the program is made of more than %v", reached)
	}
	return reached
}

// eachGoFile goes over the files of calc, sync, server and pwa that are no tests.
func eachGoFile(t *testing.T, do func(name string, text []byte)) {
	t.Helper()
	for _, house := range []string{"calc", "sync", "server", "pwa"} {
		eachFile(t, filepath.Join("..", house), func(name string) bool {
			return strings.HasSuffix(name, ".go") && !strings.HasSuffix(name, "_test.go")
		}, do)
	}
}

func eachFile(t *testing.T, root string, wanted func(name string) bool, do func(name string, text []byte)) {
	t.Helper()
	err := filepath.WalkDir(root, func(name string, entry fs.DirEntry, err error) error {
		if err == nil && entry.IsDir() && slices.Contains([]string{"node_modules", "testdata", "dist"}, entry.Name()) {
			return fs.SkipDir
		}
		if err != nil || entry.IsDir() || !wanted(name) {
			return err
		}
		text, err := os.ReadFile(name)
		do(name, text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// neverInGo are things that the server's code does not do; the program calls nobody by itself and sends nobody elsewhere.
var neverInGo = []never{
	{`\bRedirect\(|http\.StatusFound|http\.StatusMovedPermanently|http\.StatusSeeOther|StatusTemporaryRedirect|StatusPermanentRedirect`, "no address of ours sends a browser elsewhere"},
	{`http\.(Get|Post|Head|PostForm|DefaultClient)\b|http\.Client\{|net\.Dial`, "the server calls nobody"},
	{`InsecureSkipVerify`, "a certificate that is not checked is none"},
	{`template\.(HTML|JS|URL|CSS|HTMLAttr|JSStr|Srcset)\(`, "what stands on a page is escaped"},
}

// mayInGo are files of the program that may all the same.
var mayInGo = map[string]string{
	"server/cert/acme.go": "an authority is asked for the certificate, with --https=acme alone",
	"server/control.go":   "commands ask the server of their own machine, over a socket in the data folder",
}

func TestWhatTheProgramNeverDoes(t *testing.T) {
	packages := programPackages(t, map[string][]string{})
	used := map[string]bool{}
	eachGoFile(t, func(name string, text []byte) {
		if !slices.Contains(packages, folderOf(name)) {
			return
		}
		file := folderOf(name) + "/" + filepath.Base(name)
		for _, n := range neverInGo {
			if found := regexp.MustCompile(n.what).Find(text); found != nil {
				if used[file] = true; mayInGo[file] == "" {
					t.Errorf("%s: %s: %s", file, found, n.reason)
				}
			}
		}
	})
	for file := range mayInGo {
		if !used[file] {
			t.Errorf("%s is an exception that needs none", file)
		}
	}
}

// neverInTheApp are things that the app's code does not do. What people typed is shown by Preact as text and as nothing else.
var neverInTheApp = []never{
	{`innerHTML|outerHTML|insertAdjacentHTML|dangerouslySet|document\.write|srcdoc|createContextualFragment|DOMParser`, "a name would become a page"},
	{`\beval\(|new Function\b|setTimeout\(\s*['"\x60]|javascript:`, "a text would become code"},
	{`window\.open\(|location\.(href|hash|pathname)\s*=[^=]|location\.(assign|replace)\((?:[^'])`, "a text would become an address that is opened"},
	{`addEventListener\(\s*['"]message|window\.onmessage`, "no other page is listened to"},
	{`https?://[a-z0-9]`, "no other address is asked"},
	{`sessionStorage|indexedDB|document\.cookie|\bcaches\.`, "what is recorded stands in the engine's files only"},
	{`new RegExp\(`, "no pattern is made of what people typed"},
	{`__proto__|\[['"]constructor['"]\]`, "no key of somebody else's becomes a prototype"},
	{`[^=!]==[^=]|!=[^=]`, "what is equal is of one type too"},
	{`console\.(log|debug|info)|debugger\b`, "nothing is left over from looking for faults"},
}

// keptInLocalStorage may be kept where each script of the page reads it: how somebody likes the app to look, how many
// pixels a millimetre of this screen has, of which kind and where in our own files the last errors were, that clearing the device
// was begun; and nothing recorded.
var keptInLocalStorage = []string{"ui/theme.ts", "app/leak/usual.ts", "app/screen/screen.ts", "engine/clearing.ts", "engine/errors.ts", "words/language.ts"}

func TestWhatTheAppNeverDoes(t *testing.T) {
	files, storing := 0, []string{}
	eachFile(t, filepath.Join("..", "pwa", "src"), scriptOfOurs, func(name string, text []byte) {
		files++
		for _, n := range neverInTheApp {
			if found := regexp.MustCompile(n.what).Find(withoutComments(text)); found != nil {
				t.Errorf("%s: %s: %s", name, found, n.reason)
			}
		}
		if strings.Contains(string(text), "localStorage") {
			storing = append(storing, filepath.ToSlash(strings.TrimPrefix(name, filepath.Join("..", "pwa", "src")+"/")))
		}
	})
	slices.Sort(storing)
	want := slices.Sorted(slices.Values(keptInLocalStorage))
	if files < 100 || !slices.Equal(storing, want) {
		t.Errorf("%d files; in localStorage keep %v, want %v", files, storing, want)
	}
}

// scriptOfOurs leaves out tests and what is generated.
func scriptOfOurs(name string) bool {
	ours := strings.HasSuffix(name, ".ts") || strings.HasSuffix(name, ".tsx")
	return ours && !strings.Contains(name, ".test.") && !strings.HasSuffix(name, "types.ts") && !strings.Contains(name, "built")
}

func withoutComments(text []byte) []byte {
	return regexp.MustCompile(`(?s)/\*.*?\*/|(?m)(^|\s)//.*$`).ReplaceAll(text, nil)
}

// Each library that is asked for has its reason in DEVELOPERS.md, one exact version, and a hash that what is fetched must have.
func TestDependenciesHaveReasonAndHash(t *testing.T) {
	_, after, _ := strings.Cut(readText(t, "../DEVELOPERS.md"), "## Dependencies, a reason each")
	reasons, _, _ := strings.Cut(after, "\n## ")
	for _, name := range append(goDependencies(t), npmDependencies(t)...) {
		bold := func(m []string) bool { return m[1] == name || strings.HasSuffix(name, "/"+m[1]) }
		if !slices.ContainsFunc(regexp.MustCompile(`\*\*([^*]+)\*\*`).FindAllStringSubmatch(reasons, -1), bold) {
			t.Errorf("DEVELOPERS.md says no reason for %s", name)
		}
	}
}

func readText(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// goDependencies are those asked for directly; each, and each that they bring along, has its hash in go.sum.
func goDependencies(t *testing.T) (names []string) {
	t.Helper()
	sums := readText(t, "../go.sum")
	for _, m := range regexp.MustCompile(`(?m)^\t(\S+) (v\S+)( // indirect)?$`).FindAllStringSubmatch(readText(t, "../go.mod"), -1) {
		if !strings.Contains(sums, m[1]+" "+m[2]+" h1:") {
			t.Errorf("%s %s has no hash", m[1], m[2])
		}
		if m[3] == "" {
			name := regexp.MustCompile(`/v\d+$`).ReplaceAllString(m[1], "")
			names = append(names, strings.Replace(name, "golang.org/x/", "x/", 1))
		}
	}
	return names
}

// npmDependencies are those asked for directly; each of them, and each that they bring along, has its hash in the lock file.
func npmDependencies(t *testing.T) (names []string) {
	t.Helper()
	var asked struct{ Dependencies, DevDependencies map[string]string }
	var lock struct {
		Packages map[string]struct{ Integrity string }
	}
	for name, into := range map[string]any{"../pwa/package.json": &asked, "../pwa/package-lock.json": &lock} {
		if err := json.Unmarshal([]byte(readText(t, name)), into); err != nil {
			t.Fatal(err)
		}
	}
	for _, list := range []map[string]string{asked.Dependencies, asked.DevDependencies} {
		for name, version := range list {
			if !regexp.MustCompile(`^\d+\.\d+\.\d+$`).MatchString(version) {
				t.Errorf("%s %s is no exact version", name, version)
			}
			names = append(names, strings.TrimSuffix(strings.TrimPrefix(name, "@"), "/test"))
		}
	}
	for name, p := range lock.Packages {
		if name != "" && !strings.HasPrefix(p.Integrity, "sha512-") {
			t.Errorf("%s has no hash", name)
		}
	}
	return names
}
