package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"path/filepath"
	"strings"

	"jointwalk/server/copies"
	"jointwalk/server/people"
	"jointwalk/server/store"
	"jointwalk/server/store/bolt"
)

// trailed is what the trail command tells: read by the running server, or by this process when none runs.
type trailed struct {
	Lines  []string   `json:"lines,omitempty"`
	Faults []string   `json:"faults,omitempty"` // where the chain breaks
	Head   store.Head `json:"head"`
	Noted  uint64     `json:"noted,omitempty"` // the line whose hash was asked for, 0 for none
	Error  string     `json:"error,omitempty"`
}

// trail lists who changed what of people, devices and sites, and holds the chain of these lines together. With a hash
// that was noted before it says whether that line is still there.
func trail(ctx context.Context, data string, args []string, g greeting) error {
	noted := strings.ToLower(strings.Join(args, ""))
	var told trailed
	running, err := askServer(ctx, data, "trail", url.Values{"noted": {noted}}, &told)
	if err == nil && !running {
		err = bolt.ReadTrail(filepath.Join(data, copies.StoreFile), func(rows store.Rows) error { told = readTrail(rows, noted); return nil })
	}
	switch {
	case err != nil:
		return trailWords(err, data)
	case told.Error != "":
		return errors.New(told.Error)
	}
	return sayTrail(told, noted, g)
}

// sayTrail tells all of it, and damage by its error.
func sayTrail(told trailed, noted string, g greeting) error {
	for _, line := range told.Lines {
		g.say("%s", line)
	}
	if noted != "" && told.Noted == 0 {
		told.Faults = append(told.Faults, "no line has the hash "+noted+": the trail was made anew, or a state before it was put back")
	}
	if len(told.Faults) > 0 {
		g.say("\nThe trail is BROKEN:\n  %s", strings.Join(told.Faults, "\n  "))
		return errDamage
	}
	if noted != "" {
		g.say("\nThe hash that was noted is that of line %d: nothing up to it was changed since.", told.Noted)
	}
	g.say("\n%d lines, each names the hash of the one before. The newest, to be noted elsewhere, stands for all of them:\n  %s", told.Head.N, told.Head.Hash)
	return nil
}

// readTrail reads all of a trail, with the names that are known today.
func readTrail(rows store.Rows, noted string) (told trailed) {
	names, err := people.Names(rows)
	if err != nil {
		return trailed{Error: err.Error()}
	}
	see := func(a store.Audit) {
		told.Lines = append(told.Lines, trailLine(a, names))
		if a.Hash == noted {
			told.Noted = a.N
		}
	}
	told.Head, err = store.WalkTrail(rows, see, func(wrong string) { told.Faults = append(told.Faults, wrong) })
	if err != nil {
		told.Faults = append(told.Faults, err.Error())
	}
	return told
}

// trailLine is number, time, who, what and to what, with tabs between.
func trailLine(a store.Audit, names map[string]string) string {
	named := func(id string) string {
		if name := names[id]; name != "" {
			return name + " (" + id + ")"
		}
		return id
	}
	who := named(a.By)
	switch a.By {
	case "":
		who = "the server"
	case byMachine:
		who = "somebody at the server's machine"
	}
	return fmt.Sprintf("%d\t%s\t%s\t%s\t%s", a.N, a.At, who, a.What, named(a.About))
}

// trailWords says why the trail cannot be read, and what to do.
func trailWords(err error, data string) error {
	switch {
	case errors.Is(err, bolt.ErrOlder):
		return fmt.Errorf("the store in %s is of an earlier version: start the server over it once, which makes a chain of its trail", data)
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("there is no store in %s; name the data folder with --data (%w)", data, err)
	case store.CodeOf(err) == store.CodeLocked:
		return fmt.Errorf("a jointwalk uses %s but does not answer in it; stop it and try again (%w)", data, err)
	}
	return storeWords(err, data)
}
