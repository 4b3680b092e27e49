package web

import (
	"bytes"
	"strings"

	"jointwalk/sync/journal"
)

// words keeps each text that many events share once.
type words map[string]string

// shared is the one copy of a text.
func (w words) shared(text string) string {
	if kept, known := w[text]; known {
		return kept
	}
	text = strings.Clone(text) // it may be a part of a long line
	w[text] = text
	return text
}

// lean is an event without the line that it was read from: a book keeps it as long as the server runs. What is its own
// shares one piece of memory.
func (w words) lean(e journal.Event) journal.Event {
	for _, text := range []*string{&e.Log, &e.Zone, &e.By, &e.About.Site, &e.About.Fixture, &e.Kind} {
		*text = w.shared(*text)
	}
	own := []*string{&e.ID, &e.Prev, &e.Time, &e.About.Of, &e.Base}
	all := e.ID + e.Prev + e.Time + e.About.Of + e.Base
	for _, text := range own {
		*text, all = all[:len(*text)], all[len(*text):]
	}
	e.Body = bytes.Clone(e.Body)
	return e
}
