package main

import (
	"context"
	"crypto/rand"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"time"

	"jointwalk/server/copies"
	"jointwalk/server/store"
	"jointwalk/server/store/bolt"
)

// commands are what the program does beside serving. Each gets its data folder and what else stood there.
var commands = map[string]func(ctx context.Context, data string, args []string, g greeting) error{
	"backup": backup, "restore": restore, "check": check, "invite": invite, "trail": trail,
}

// errDamage says that damage was found and that this has been told.
var errDamage = errors.New("damaged")

// command runs one and gives the exit code of the program.
func command(ctx context.Context, name string, args []string, g greeting, errs io.Writer) int {
	data, rest, err := readCommand(name, args, errs)
	if err == nil {
		err = commands[name](ctx, data, rest, g)
	}
	switch {
	case err == nil, errors.Is(err, flag.ErrHelp):
		return 0
	case errors.Is(err, errUsage):
		return 2
	case errors.Is(err, errDamage):
		return 1
	}
	_, _ = fmt.Fprintln(errs, "jointwalk:", err) // nowhere else to tell it
	return 1
}

// readCommand reads the flags of a command, which may stand before and after the rest.
func readCommand(name string, args []string, out io.Writer) (data string, rest []string, err error) {
	set := flag.NewFlagSet("jointwalk "+name, flag.ContinueOnError)
	set.SetOutput(out)
	set.Usage = func() { _, _ = fmt.Fprint(out, usage) } // nowhere else to tell it
	set.StringVar(&data, "data", "./data", "")
	for {
		if err := set.Parse(args); err != nil {
			if errors.Is(err, flag.ErrHelp) {
				return "", nil, err
			}
			return "", nil, errUsage
		}
		if set.NArg() == 0 {
			break
		}
		rest, args = append(rest, set.Arg(0)), set.Args()[1:]
	}
	if most := 1; len(rest) > most || name != "check" && name != "trail" && len(rest) < most {
		set.Usage()
		return "", nil, errUsage
	}
	data, err = filepath.Abs(data)
	return data, rest, err
}

// backup puts a copy into a folder: the running server makes it, or this process when none runs.
func backup(ctx context.Context, data string, args []string, g greeting) error {
	into, err := filepath.Abs(args[0])
	if err != nil {
		return err
	}
	path, running, err := askCopy(ctx, data, into)
	if !running && err == nil {
		store := filepath.Join(data, copies.StoreFile)
		copyStore := func(ctx context.Context, w io.Writer) error { return bolt.CopyFile(ctx, store, w) }
		var made copies.Copy
		made, err = copies.Make(ctx, source(data, copyStore, rand.Reader), into, time.Now())
		path = made.Path
	}
	if err != nil {
		return copyWords(err, data, into)
	}
	m, err := copies.Read(path)
	if err != nil {
		return err
	}
	g.say("%s\n%s", path, contents(m))
	return nil
}

// contents says what a copy holds.
func contents(m *copies.Manifest) string {
	bytes := int64(0)
	for _, f := range m.Files {
		bytes += f.Size
	}
	text := fmt.Sprintf("%d files, %.1f MB, made %s by version %s", len(m.Files), float64(bytes)/1e6, m.Made.Format(time.RFC3339), m.Program)
	if len(m.Damaged) > 0 {
		text += fmt.Sprintf("\n%d pictures were damaged and left out: %v", len(m.Damaged), m.Damaged)
	}
	return text
}

// copyWords says why there is no copy, and what to do.
func copyWords(err error, data, into string) error {
	switch {
	case store.CodeOf(err) == store.CodeLocked:
		return fmt.Errorf("a jointwalk uses the data folder %s but does not answer in it; stop it and try again (%w)", data, err)
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("there is no whole data folder at %s; name it with --data (%w)", data, err)
	case errors.Is(err, syscall.ENOSPC):
		return fmt.Errorf("the disk that holds %s is too full for a copy; nothing was left there (%w)", into, err)
	}
	return fmt.Errorf("no copy was made in %s: %w", into, err)
}

// restore puts a copy into an empty data folder.
func restore(ctx context.Context, data string, args []string, g greeting) error {
	from, err := copyAt(args[0])
	if err != nil {
		return err
	}
	m, err := copies.Restore(ctx, from, data, source(data, nil, rand.Reader).Store)
	switch {
	case errors.Is(err, copies.ErrNotEmpty):
		return fmt.Errorf("%s is not empty: move it away, or name a new folder with --data", data)
	case errors.Is(err, syscall.ENOSPC):
		return fmt.Errorf("the disk that holds %s is full; nothing was left there (%w)", data, err)
	case err != nil:
		return fmt.Errorf("nothing was restored: %w", err)
	}
	g.say("restored into %s: %s", data, contents(m))
	g.say("Sessions are those of the copy: who was shut out or changed since then is let in as before. Look through People first.")
	g.say("What phones handed in since that copy, they hand in again by themselves.")
	return nil
}

// copyAt finds a copy, and says which ones there are when the folder of them was meant.
func copyAt(path string) (string, error) {
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		return "", fmt.Errorf("there is no copy at %s (%w)", path, err)
	}
	if _, err := os.Stat(filepath.Join(real, "manifest.json")); err == nil {
		return real, nil
	}
	all, err := copies.List(real)
	if err == nil && len(all) > 0 {
		return "", fmt.Errorf("%s holds copies but is none; the newest is %s", path, all[len(all)-1].Path)
	}
	return "", fmt.Errorf("%s is no copy: it has no manifest", path)
}
