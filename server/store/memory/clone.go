package memory

import (
	"bytes"
	"maps"
	"slices"
)

// Clone is a copy under another incarnation, as a backup that was restored is one.
func (e *Events) Clone(incarnation string) *Events {
	e.mu.RLock()
	defer e.mu.RUnlock()
	return &Events{
		name: incarnation, feeds: cloned(e.feeds), fixtures: cloned(e.fixtures), places: maps.Clone(e.places),
		held: maps.Clone(e.held), seen: maps.Clone(e.seen), upto: maps.Clone(e.upto), asides: slices.Clone(e.asides), apart: maps.Clone(e.apart),
	}
}

// cloned copies the lists too, so that appending to one changes no other.
func cloned[T any](lists map[string][]T) map[string][]T {
	copies := make(map[string][]T, len(lists))
	for key, list := range lists {
		copies[key] = slices.Clone(list)
	}
	return copies
}

// Clone is a copy.
func (b *Blobs) Clone() *Blobs {
	b.mu.RLock()
	defer b.mu.RUnlock()
	parts := make(map[string][]byte, len(b.part))
	for hash, part := range b.part {
		parts[hash] = bytes.Clone(part)
	}
	return &Blobs{held: maps.Clone(b.held), part: parts}
}
