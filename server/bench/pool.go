package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// ids of the invented phone.
const (
	plant     = "018f0000-0000-7000-8000-00000000000a"
	house     = "018f0000-0000-7000-8000-000000000001"
	worker    = "018f0000-0000-7000-8000-0000000000aa"
	colleague = "018f0000-0000-7000-8000-0000000000bb"
)

// heldEach is how many events of a fixture a phone holds: its joints, and the last rounds.
const heldEach = 100

// makePool writes the files of a phone that holds so many events, half of its own and half pulled, and phone.json, which
// names a fixture among them: for the measurement of a phone's cold start.
func makePool(folder string, events int) error {
	w := &world{site: plant, installation: house}
	files, pool, err := emptyPool()
	if err != nil {
		return err
	}
	own, err := newAuthor(w, worker, 1)
	if err != nil {
		return err
	}
	own.log = pool.Log()
	for n := range max(leastStands, events/heldEach) {
		f, err := own.register(n)
		if err != nil {
			return err
		}
		w.fixtures = append(w.fixtures, f)
	}
	own.fixtures = w.fixtures
	if _, err := own.some(events / 2); err != nil {
		return err
	}
	if err := pulledFrom(w, pool, events-events/2); err != nil {
		return err
	}
	me, err := json.Marshal(map[string]any{"person": map[string]any{"id": worker, "name": "Somebody"}, "device": map[string]any{"id": house, "name": "Phone"},
		"installation": house, "sites": []map[string]any{{"id": plant, "name": "Plant"}}, "people": []any{}})
	if err != nil {
		return err
	}
	if err := pool.State().Put(map[string]json.RawMessage{"me": me}); err != nil {
		return err
	}
	return keepPool(folder, files, w.fixtures[0].id, pool.Log().Count(nil))
}

func emptyPool() (files []*journal.Memory, pool *journal.Pool, err error) {
	var slots []journal.Slot
	for n := range journal.PoolSize {
		files = append(files, &journal.Memory{})
		slots = append(slots, journal.Slot{Name: poolName(n), File: files[n], Fresh: true})
	}
	pool, err = journal.OpenPool(slots, "018f0000-0000-7000-8000-0000000000c1")
	return files, pool, err
}

func poolName(n int) string { return fmt.Sprintf("pool-%02d", n) }

// pulledFrom puts a colleague's events into the site's feed.
func pulledFrom(w *world, pool *journal.Pool, events int) error {
	w.tick = pool.Log().Tick()
	other, err := newAuthor(w, colleague, 2)
	if err != nil {
		return err
	}
	lines, err := other.some(events)
	if err != nil {
		return err
	}
	feed, err := pool.Site(plant)
	if err != nil {
		return err
	}
	for n := 0; n < len(lines); n += exchange.MaxSlice {
		var pairs []journal.Pair
		for i, line := range lines[n:min(n+exchange.MaxSlice, len(lines))] {
			r := exchange.Receipt{N: uint64(n + i + 1), At: "2026-04-01T08:00:00.000Z", From: house}
			r.Seal = sealed(journal.Hash(line), r)
			pairs = append(pairs, journal.Pair{Line: line, Receipt: r})
		}
		if _, err := feed.Append(pairs); err != nil {
			return err
		}
	}
	return nil
}

// keepPool writes the files out.
func keepPool(folder string, files []*journal.Memory, fixture string, own int) error {
	for n, f := range files {
		size, err := f.Size()
		if err != nil {
			return err
		}
		raw := make([]byte, size)
		if size > 0 {
			if _, err := f.ReadAt(raw, 0); err != nil {
				return err
			}
		}
		if err := os.WriteFile(filepath.Join(folder, poolName(n)), raw, 0o600); err != nil {
			return err
		}
	}
	told, err := json.Marshal(map[string]any{"fixture": fixture, "own": own})
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, "phone.json"), told, 0o600)
}
