// Command freeze keeps what later builds must still read. Run it at the top of
// the module:
//
//	go run ./server/formats/freeze schema         the schema snapshot, from the Go types
//	go run ./server/formats/freeze release        the same, and freeze it as released
//	go run ./server/formats/freeze journals NAME  a journal with every kind, a phone's files and
//	                                              a store, into testdata/journals/NAME
//
// What was frozen once is never frozen anew.
package main

import (
	"fmt"
	"os"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "freeze:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	switch {
	case len(args) == 1 && args[0] == "schema":
		return snapshots(false)
	case len(args) == 1 && args[0] == "release":
		return snapshots(true)
	case len(args) == 2 && args[0] == "journals":
		return journals("testdata/journals/" + args[1])
	}
	return fmt.Errorf("want schema, release or journals NAME")
}
