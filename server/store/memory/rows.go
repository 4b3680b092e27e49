package memory

import (
	"bytes"
	"maps"
	"slices"
	"sync"

	"jointwalk/server/store"
)

// Rows is store.Rows in memory.
type Rows struct {
	mu     sync.RWMutex
	tables tables
	audits []store.Audit
	head   store.Head
}

// tables are rows by table and id. A row is never written to, only replaced.
type tables map[string]map[string][]byte

// NewRows has no rows.
func NewRows() *Rows { return &Rows{tables: tables{}} }

// View reads.
func (r *Rows) View(read func(store.RowReader) error) error {
	r.mu.RLock()
	defer r.mu.RUnlock()
	return read(r.tables)
}

// Change changes, with an audit line.
func (r *Rows) Change(audit store.Audit, do func(store.RowWriter) error) error {
	return r.write(do, func() error { return r.note(audit) })
}

// note adds an audit line.
func (r *Rows) note(audit store.Audit) error {
	line, err := r.head.Line(audit)
	if err == nil {
		audit, err = store.ReadAudit(line)
	}
	if err == nil {
		r.audits, r.head = append(r.audits, audit), audit.Head()
	}
	return err
}

// Keep changes without one.
func (r *Rows) Keep(do func(store.RowWriter) error) error {
	return r.write(do, func() error { return nil })
}

// write changes a copy and keeps it when all went well.
func (r *Rows) write(do func(store.RowWriter) error, also func() error) error {
	r.mu.Lock()
	defer r.mu.Unlock()
	draft := tables{}
	for name, table := range r.tables {
		draft[name] = maps.Clone(table)
	}
	if err := do(draft); err != nil {
		return err
	}
	if err := also(); err != nil {
		return err
	}
	r.tables = draft
	return nil
}

// Audits lists audit lines.
func (r *Rows) Audits(after uint64, most int) ([]store.Audit, error) {
	r.mu.RLock()
	defer r.mu.RUnlock()
	some, _ := part(r.audits, after, most)
	return slices.Clone(some), nil
}

// Head is the newest audit line.
func (r *Rows) Head() (store.Head, error) {
	r.mu.RLock()
	defer r.mu.RUnlock()
	return r.head, nil
}

// Get reads a row.
func (t tables) Get(table, id string) ([]byte, error) {
	row, held := t[table][id]
	if !held {
		return nil, store.ErrNoRow
	}
	return bytes.Clone(row), nil
}

// Each reads a table.
func (t tables) Each(table string, do func(id string, row []byte) error) error {
	for _, id := range slices.Sorted(maps.Keys(t[table])) {
		if err := do(id, bytes.Clone(t[table][id])); err != nil {
			return err
		}
	}
	return nil
}

// Put writes a row.
func (t tables) Put(table, id string, row []byte) error {
	if err := store.CheckKey(table, id); err != nil {
		return err
	}
	if t[table] == nil {
		t[table] = map[string][]byte{}
	}
	t[table][id] = append([]byte{}, row...)
	return nil
}

// Drop removes a row.
func (t tables) Drop(table, id string) error {
	if err := store.CheckKey(table, id); err != nil {
		return err
	}
	if _, held := t[table][id]; !held {
		return store.ErrNoRow
	}
	delete(t[table], id)
	return nil
}
