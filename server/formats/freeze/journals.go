package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"

	"jointwalk/server/store"
	"jointwalk/server/store/bolt"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

// journals writes the story into a new folder: journal.ndjson with its lines in
// the order of arrival, receipts.ndjson beside it, a phone's files, a store, and
// what all of them must answer.
func journals(folder string) error {
	if err := os.Mkdir(folder, 0o755); err != nil {
		return err
	}
	w, err := newWriter()
	if err != nil {
		return err
	}
	w.tell()
	return errors.Join(w.err, w.lines(folder), w.send(), w.phone(filepath.Join(folder, "phone")), w.store(filepath.Join(folder, "store.db")), w.expected(folder))
}

func (w *writer) lines(folder string) error {
	var lines, receipts []byte
	for _, p := range w.pairs {
		lines = append(append(lines, p.Line...), '\n')
		receipts = append(journal.AppendReceipt(receipts, p.Receipt), '\n')
	}
	return errors.Join(os.WriteFile(filepath.Join(folder, "journal.ndjson"), lines, 0o644),
		os.WriteFile(filepath.Join(folder, "receipts.ndjson"), receipts, 0o644))
}

// phone pulls what the desk wrote, keeps a picture and a draft, and writes its
// files out.
func (w *writer) phone(folder string) error {
	feed, err := w.pool.Site(siteOne)
	if err != nil {
		return err
	}
	if _, err := feed.Append(w.pairs); err != nil {
		return err
	}
	errs := []error{
		w.pool.Pictures().Add(w.picture, picture, w.at.Format(journal.TimeLayout)),
		w.pool.State().Put(map[string]json.RawMessage{"draft:note": json.RawMessage(`{"text":"half a sen"}`), "gone": json.RawMessage(`1`)}),
		w.pool.State().Drop("gone"),
		os.Mkdir(folder, 0o755),
	}
	for _, s := range w.slots {
		size, err := s.File.Size()
		raw := make([]byte, size)
		if size > 0 {
			_, err = s.File.ReadAt(raw, 0)
		}
		errs = append(errs, err, os.WriteFile(filepath.Join(folder, s.Name), raw, 0o644))
	}
	return errors.Join(errs...)
}

// store hands all lines to a store, one of them twice, and two that it sets
// aside: one torn, one the other side of a fork.
func (w *writer) store(path string) error {
	s, err := bolt.Open(path, bytes.NewReader(bytes.Repeat([]byte{7}, 1024)))
	if err != nil {
		return err
	}
	items := []exchange.Incoming{}
	for i, p := range w.pairs {
		receipt := p.Receipt
		receipt.N = 0
		items = append(items, exchange.Incoming{Line: p.Line, Event: w.events[i], Hash: journal.Hash(p.Line), Receipt: receipt, To: record.MovesTo(w.events[i])})
	}
	bad := journal.Line(`{"v":1,"torn`)
	forked := items[2]
	forked.Line = bytes.Replace(forked.Line, []byte("Port nut"), []byte("Port not"), 1)
	forked.Hash = journal.Hash(forked.Line)
	items = append(items, items[0], forked, exchange.Incoming{Line: bad, Hash: journal.Hash(bad), Receipt: items[0].Receipt, Aside: journal.CodeBadLine})
	_, err = s.Add(items)
	row := func(rows store.RowWriter) error { return rows.Put("sites", siteOne, []byte(`{"name":"Plant one"}`)) }
	audit := store.Audit{At: "2026-03-02T08:00:00.000Z", What: "site-added", About: siteOne}
	return errors.Join(err, s.Change(audit, row), s.Close())
}

// names are those of the story's sites and people.
func names() summary.Names {
	return summary.Names{
		Sites:  []summary.SiteName{{ID: siteOne, Name: "Plant one"}, {ID: siteTwo, Name: "Plant two"}},
		People: map[string]string{technician: "A technician", engineer: "An engineer"},
	}
}

// asked is a question with its answer.
type asked struct {
	Question string `json:"question"`
	Args     any    `json:"args"`
	Answer   any    `json:"answer"`
}

// expected writes what every copy of the story must answer.
func (w *writer) expected(folder string) error {
	book := record.NewBook()
	for i, e := range w.events {
		book.AddReceived(e, w.pairs[i].Receipt)
	}
	desk := summary.NewDesk(book, names())
	answers := []asked{}
	ask := func(question string, args any) error {
		raw, err := json.Marshal(args)
		if err != nil {
			return err
		}
		answer, err := summary.Ask(desk, question, raw)
		answers = append(answers, asked{question, args, answer})
		return err
	}
	errs := []error{ask("home", struct{}{}), ask("findings", struct{}{}), ask("conflicts", struct{}{}), ask("tag", summary.TagQuestion{Text: book.Fixture(fixtureOne).Tag})}
	for _, f := range book.Fixtures() {
		errs = append(errs, ask("fixture", summary.FixtureQuestion{ID: f.ID}))
		for _, r := range f.Rounds {
			errs = append(errs, ask("round", summary.RoundQuestion{ID: r.ID}))
		}
		for _, l := range f.Looks {
			if l.OwnFinding() {
				errs = append(errs, ask("finding", summary.FindingQuestion{ID: l.ID}))
			}
		}
	}
	raw, err := json.MarshalIndent(struct {
		Sites   []summary.SiteName `json:"sites"`
		People  map[string]string  `json:"people"`
		Answers []asked            `json:"answers"`
	}{names().Sites, names().People, answers}, "", " ")
	errs = append(errs, err, os.WriteFile(filepath.Join(folder, "expected.json"), append(raw, '\n'), 0o644))
	return errors.Join(errs...)
}
