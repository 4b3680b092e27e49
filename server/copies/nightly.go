package copies

import (
	"context"
	"errors"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"sync"
	"time"
)

const (
	nightHour, nightMinute = 2, 30               // local time, when a copy is due
	kept                   = 14 * 24 * time.Hour // how long a copy is kept
	keptLeast              = 7                   // so many newest are kept, however old: a clock may be wrong
	again                  = time.Hour           // after one that failed
)

// Keeper makes a copy each night, and others when asked, never two at once.
type Keeper struct {
	Source Source
	Folder string // of the nightly ones
	Now    func() time.Time
	Log    *slog.Logger

	mu    sync.Mutex // held while a copy is made
	tried time.Time  // when a nightly one failed last; used by Run alone
}

// Run looks at each tick whether a copy is due, until ctx ends. The ticks are a minute apart, or less.
func (k *Keeper) Run(ctx context.Context, ticks <-chan time.Time) {
	for {
		select {
		case <-ctx.Done():
			return
		case <-ticks:
			k.look(ctx)
		}
	}
}

func (k *Keeper) look(ctx context.Context) {
	if k.due() {
		k.night(ctx)
	}
}

// due says whether there is no copy since the last half past two. That is so at a start after a night without.
func (k *Keeper) due() bool {
	now := k.Now()
	if since := now.Sub(k.tried); since >= 0 && since < again {
		return false
	}
	newest, err := k.Newest()
	return err != nil || newest.Before(lastNight(now))
}

// lastNight is the last time before now when a copy was due.
func lastNight(now time.Time) time.Time {
	year, month, day := now.Date()
	night := time.Date(year, month, day, nightHour, nightMinute, 0, 0, now.Location())
	if night.After(now) {
		night = time.Date(year, month, day-1, nightHour, nightMinute, 0, 0, now.Location())
	}
	return night
}

// night makes the nightly copy and lets old ones go.
func (k *Keeper) night(ctx context.Context) {
	started := k.Now()
	made, err := k.Make(ctx, k.Folder)
	if ctx.Err() != nil {
		return // the server is being stopped; what was begun is gone
	}
	if err != nil {
		k.tried = started
		k.Log.Warn("the nightly copy could not be made; it is tried again in an hour", "folder", k.Folder, "cause", err)
		return
	}
	k.Log.Info("copied", "to", made.Path, "took", k.Now().Sub(started).Round(time.Millisecond))
	if err := k.thin(made.Made); err != nil {
		k.Log.Warn("old copies could not be removed", "folder", k.Folder, "cause", err)
	}
}

// Make makes a copy into a folder now. It waits for one that is being made.
func (k *Keeper) Make(ctx context.Context, folder string) (Copy, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	return Make(ctx, k.Source, folder, k.Now())
}

// thin removes copies that are too old, but for the newest few.
func (k *Keeper) thin(now time.Time) error {
	all, err := List(k.Folder)
	if err != nil {
		return err
	}
	for i, one := range all {
		if len(all)-i > keptLeast && one.Made.Before(now.Add(-kept)) {
			err = errors.Join(err, remove(one))
		}
	}
	return err
}

// remove takes the name of a copy away before its files, so that what a crash leaves is not taken for one.
func remove(one Copy) error {
	going := filepath.Join(filepath.Dir(one.Path), unfinished+filepath.Base(one.Path))
	if err := os.Rename(one.Path, going); err != nil {
		return err
	}
	return os.RemoveAll(going)
}

// Newest is when the newest copy was made. One from the future is a wrong clock's and does not count. None is an error,
// with fs.ErrNotExist as its cause.
func (k *Keeper) Newest() (time.Time, error) {
	all, err := List(k.Folder)
	if err != nil {
		return time.Time{}, err
	}
	now := k.Now()
	for i := len(all) - 1; i >= 0; i-- {
		if !all[i].Made.After(now) {
			return all[i].Made, nil
		}
	}
	return time.Time{}, fs.ErrNotExist
}
