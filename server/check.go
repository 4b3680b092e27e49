package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"jointwalk/server/copies"
	"jointwalk/server/store"
	"jointwalk/server/store/bolt"
)

// check reads all of a data folder or of a copy, and says what it found.
func check(ctx context.Context, data string, args []string, g greeting) error {
	folder, faults, err := data, []string(nil), error(nil)
	if len(args) > 0 {
		if folder, err = copyAt(args[0]); err != nil {
			return err
		}
		faults, err = checkCopy(ctx, folder, g)
	} else {
		faults, err = checkPictures(ctx, folder, g)
	}
	if err != nil {
		return err
	}
	report, err := bolt.Check(filepath.Join(folder, copies.StoreFile))
	switch {
	case store.CodeOf(err) == store.CodeLocked:
		return fmt.Errorf("a jointwalk uses %s: stop it, or check a copy of it (%w)", folder, err)
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("there is no store in %s; name the data folder with --data, or a copy (%w)", folder, err)
	case store.CodeOf(err) == store.CodeNewer:
		return storeWords(err, folder)
	case err != nil:
		return fmt.Errorf("the store in %s cannot be read: %w", folder, err)
	}
	g.say("store: format %d, %d events at %d sites from %d logs, %d lines set aside, %d rows, %d lines in the trail",
		report.Format, report.Events, report.Sites, report.Logs, report.Asides, report.Rows, report.Audits)
	if report.Trail.N > 0 {
		g.say("newest line of the trail: %d, %s", report.Trail.N, report.Trail.Hash)
	}
	faults = append(faults, report.Faults...)
	if report.More > 0 {
		faults = append(faults, fmt.Sprintf("and %d more of the kind", report.More))
	}
	return verdict(folder, faults, g)
}

func verdict(folder string, faults []string, g greeting) error {
	if len(faults) == 0 {
		g.say("%s is whole", folder)
		return nil
	}
	g.say("\n%s is DAMAGED:", folder)
	for _, fault := range faults {
		g.say("  %s", fault)
	}
	return errDamage
}

// checkCopy holds the files of a copy to its manifest.
func checkCopy(ctx context.Context, folder string, g greeting) ([]string, error) {
	m, err := copies.Read(folder)
	var fault *copies.Fault
	if errors.As(err, &fault) {
		return fault.Faults, nil
	}
	if err != nil {
		return nil, err
	}
	g.say("copy: %s", contents(m))
	return copies.Verify(ctx, folder, m)
}

// checkPictures holds the pictures of a data folder to their hashes.
func checkPictures(ctx context.Context, folder string, g greeting) ([]string, error) {
	count, bytes, faults, err := copies.CheckBlobs(ctx, filepath.Join(folder, copies.BlobsFolder))
	if err == nil {
		g.say("pictures: %d, %.1f MB", count, float64(bytes)/1e6)
	}
	return faults, err
}
