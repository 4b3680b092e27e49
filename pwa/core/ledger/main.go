// Command ledger prints what the engine weighs, by package, and what a first
// load of the app weighs: make bench calls it.
//
//	go run ./pwa/core/ledger ENGINE.wasm DIST
//
// The ledger is made from an engine built anew with its names, which the one
// that is served lacks.
package main

import (
	"cmp"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// budget is what the engine may weigh, brotli, in bytes.
const budget = 1_000_000

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "ledger: want ENGINE.wasm DIST")
		os.Exit(2)
	}
	if err := run(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintln(os.Stderr, "ledger:", err)
		os.Exit(1)
	}
}

func run(engine, dist string) error {
	if err := printServed(dist); err != nil {
		return err
	}
	named, err := buildNamed()
	if err != nil {
		return err
	}
	raw, err := os.ReadFile(named)
	if err != nil {
		return err
	}
	sizes, err := functionSizes(raw)
	if err != nil {
		return err
	}
	info, err := os.Stat(engine)
	if err != nil {
		return err
	}
	printLedger(byPackage(sizes), int(info.Size()))
	return os.RemoveAll(filepath.Dir(named))
}

// buildNamed builds the engine with its names into a folder of its own.
func buildNamed() (string, error) {
	folder, err := os.MkdirTemp("", "ledger")
	if err != nil {
		return "", err
	}
	out := filepath.Join(folder, "engine.wasm")
	build := exec.Command("go", "build", "-trimpath", "-o", out, "./pwa/core")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	if text, err := build.CombinedOutput(); err != nil {
		return "", fmt.Errorf("%w: %s", err, text)
	}
	return out, nil
}

// byPackage sums code bytes by the package in front of a function's name.
func byPackage(sizes map[string]int) map[string]int {
	sums := map[string]int{}
	for name, size := range sizes {
		sums[packageOf(name)] += size
	}
	return sums
}

// packageOf returns the import path in a linker's symbol, "other" when there is none.
func packageOf(symbol string) string {
	name, _, _ := strings.Cut(symbol, "[") // type arguments hold slashes and dots of their own
	slash := strings.LastIndex(name, "/")
	dot := strings.Index(name[slash+1:], ".")
	if dot < 0 {
		return "other"
	}
	return strings.TrimPrefix(strings.TrimPrefix(name[:slash+1+dot], "type:.eq."), "go:")
}

const shown = 25 // packages listed one by one

func printLedger(sums map[string]int, whole int) {
	type row struct {
		name string
		size int
	}
	var rows []row
	code := 0
	for name, size := range sums {
		rows = append(rows, row{name, size})
		code += size
	}
	slices.SortFunc(rows, func(a, b row) int { return cmp.Or(b.size-a.size, strings.Compare(a.name, b.name)) })
	fmt.Printf("engine %d bytes raw: code %d, data and the rest %d\n", whole, code, whole-code)
	for i, r := range rows {
		if i < shown || strings.HasPrefix(r.name, "jointwalk") {
			fmt.Printf("%9d  %4.1f %%  %s\n", r.size, 100*float64(r.size)/float64(code), r.name)
		}
	}
}

// printServed prints the engine as served and the first load: what index.html names.
func printServed(dist string) error {
	page, err := os.ReadFile(filepath.Join(dist, "index.html"))
	if err != nil {
		return err
	}
	files, err := filepath.Glob(filepath.Join(dist, "assets", "*.br"))
	if err != nil {
		return err
	}
	first := 0
	for _, file := range files {
		info, err := os.Stat(file)
		if err != nil {
			return err
		}
		name := strings.TrimSuffix(filepath.Base(file), ".br")
		if strings.Contains(string(page), name) {
			first += int(info.Size())
			fmt.Printf("%9d  %s\n", info.Size(), name)
		}
		if strings.HasPrefix(name, "engine-") {
			fmt.Printf("engine %d bytes brotli, %+d to its budget of %d\n", info.Size(), int(info.Size())-budget, budget)
		}
	}
	fmt.Printf("first load %d bytes brotli, beside index.html\n", first)
	return nil
}
