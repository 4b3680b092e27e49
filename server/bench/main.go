// Command bench measures the built server over loopback, with real files and every answer given after its flush: many
// phones that arrive together, the first pull, the empty turn, the bytes of an event on the wire, and how start, memory,
// pull and answers grow with what is held. It prints figures and holds nothing against them; an answer that is wrong
// ends it. On a machine that does other work the best of several runs says most.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
)

// million is the variable of the environment that asks for a million events too.
const million = "JOINTWALK_BENCH_MILLION"

// plan is what to measure.
type plan struct {
	program string // the built server
	phones  int
	events  int // of each phone that arrives
	first   int // events of the first pull
	sizes   []int
	runs    int // of each figure where the best is taken
	only    string
	pool    string // not "": make a phone's files there and measure nothing
	pooled  int    // events in them
}

var measures = []struct {
	name string
	run  func(plan, func(string, ...any)) error
}{{"together", together}, {"pull", firstPull}, {"empty", emptyTurn}, {"wire", wire}, {"growth", growth}}

func main() { os.Exit(start(os.Args[1:], os.Stdout)) }

// start runs the program and gives its exit code: 0, 1 when something went wrong, 2 for wrong flags.
func start(args []string, out io.Writer) int {
	p, err := readPlan(args, os.Getenv(million) != "", out)
	switch {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		_, _ = fmt.Fprintln(out, "bench:", err) // nowhere else to tell it
		return 2
	}
	say := func(format string, values ...any) { _, _ = fmt.Fprintf(out, format+"\n", values...) }
	if p.pool != "" {
		if err := makePool(p.pool, p.pooled); err != nil {
			say("bench: %v", err)
			return 1
		}
		return 0
	}
	for _, m := range measures {
		if p.only != "" && p.only != m.name {
			continue
		}
		if err := m.run(p, say); err != nil {
			say("bench: %s: %v", m.name, err)
			return 1
		}
	}
	return 0
}

func readPlan(args []string, more bool, out io.Writer) (plan, error) {
	p := plan{}
	sizes := ""
	flags := flag.NewFlagSet("bench", flag.ContinueOnError)
	flags.SetOutput(out)
	flags.StringVar(&p.program, "program", "bin/jointwalk", "the built server")
	flags.IntVar(&p.phones, "phones", 300, "phones that arrive together")
	flags.IntVar(&p.events, "events", 200, "events of each")
	flags.IntVar(&p.first, "first", 10_000, "events of the first pull")
	flags.StringVar(&sizes, "sizes", "10000,100000", "events held, for growth")
	flags.IntVar(&p.runs, "runs", 3, "runs of which the best is told")
	flags.StringVar(&p.only, "only", "", "one of together, pull, empty, wire, growth")
	flags.StringVar(&p.pool, "pool", "", "make the files of a phone in this folder, and measure nothing")
	flags.IntVar(&p.pooled, "pooled", 20_000, "events in those files")
	if err := flags.Parse(args); err != nil {
		return p, err
	}
	for _, text := range strings.Split(sizes, ",") {
		size, err := strconv.Atoi(text)
		if err != nil || size < 1 {
			return p, fmt.Errorf("no size: %q", text)
		}
		p.sizes = append(p.sizes, size)
	}
	if more {
		p.sizes = append(p.sizes, 1_000_000)
	}
	if p.phones < 1 || p.events < 1 || p.events > 200 || p.runs < 1 || p.first < 1 {
		return p, errors.New("phones, first and runs are 1 and more, events 1 to 200")
	}
	return p, nil
}
