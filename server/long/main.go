// Command long kills the server under load, again and again, and holds it to its word: every event that it
// acknowledged is in the pulls afterwards, byte for byte and once; bbolt's own check finds nothing wrong after
// each kill; and it answers again soon. It fails on any loss. Its figures are written by the run itself.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"
)

// plan is what one run does.
type plan struct {
	program string        // path of the built server
	kills   int           // under load
	clients int           // phones that push at the same time
	seed    uint64        // of kill times, batch sizes and pauses; what the kernel schedules is not seeded
	limit   time.Duration // within which the server must answer again
	into    string        // folder for the figures, "" for none
}

func main() {
	os.Exit(start(os.Args[1:], os.Stdout))
}

// start runs with those arguments and gives the exit code: 0, 1 when something was lost or broke, 2 for wrong flags.
func start(args []string, out io.Writer) int {
	var p plan
	set := flag.NewFlagSet("long", flag.ContinueOnError)
	set.StringVar(&p.program, "program", "bin/jointwalk", "the built server")
	set.IntVar(&p.kills, "kills", 200, "kills under load")
	set.IntVar(&p.clients, "clients", 8, "phones that push at the same time")
	set.Uint64Var(&p.seed, "seed", uint64(time.Now().UnixNano()), "of kill times, batch sizes and pauses")
	set.DurationVar(&p.limit, "limit", 3*time.Second, "within which it must answer again")
	set.StringVar(&p.into, "into", "", "folder that server.json is written to")
	if set.Parse(args) != nil || set.NArg() > 0 || p.kills < 1 || p.clients < 1 {
		return 2
	}
	figures, err := run(p, func(line string) { _, _ = fmt.Fprintln(out, line) })
	if err != nil {
		_, _ = fmt.Fprintln(out, "long:", err)
		return 1
	}
	if p.into == "" {
		return 0
	}
	if err := keep(figures, p.into); err != nil {
		_, _ = fmt.Fprintln(out, "long:", err)
		return 1
	}
	return 0
}

// keep writes the figures of a run in which nothing was lost.
func keep(f figures, folder string) error {
	raw, err := json.MarshalIndent(f, "", "  ")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, "server.json"), append(raw, '\n'), 0o644)
}
