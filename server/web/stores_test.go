package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// events keeps pairs in order of arrival; good enough for one writer.
type events struct {
	pairs   []exchange.Stored
	asides  []Aside
	settled []Settlement
	upto    map[string]uint64
	reads   int
	broken  error
}

func (e *events) Add(items []exchange.Incoming) ([]exchange.Verdict, error) {
	if e.broken != nil {
		return nil, e.broken
	}
	if e.upto == nil {
		e.upto = map[string]uint64{}
	}
	var verdicts []exchange.Verdict
	for _, item := range items {
		v := exchange.Verdict{Log: item.Event.Log, Seq: item.Event.Seq, Is: exchange.Applied, Code: item.Aside}
		if item.Aside != "" {
			v.Is = exchange.Aside
			e.asides = append(e.asides, Aside{N: uint64(len(e.asides)) + 1, Hash: item.Hash, Code: item.Aside, Log: item.Event.Log, Line: item.Line, Receipt: item.Receipt})
		} else {
			n, _ := e.Last(item.Event.About.Site)
			item.Receipt.N = n + 1
			e.pairs = append(e.pairs, exchange.Stored{Line: item.Line, Receipt: item.Receipt})
		}
		e.upto[v.Log] = max(e.upto[v.Log], v.Seq)
		verdicts = append(verdicts, v)
	}
	return verdicts, nil
}

func (e *events) Upto(log string) (uint64, error) { return e.upto[log], nil }

// Fed is the last of a log's events that it holds; they come without gaps here.
func (e *events) Fed(log string, most uint64) (uint64, error) { return min(e.upto[log], most), nil }

func (e *events) Stand(log string, seqs []uint64) ([]string, error) {
	hashes := make([]string, len(seqs))
	for _, pair := range e.pairs {
		if ev, err := journal.Parse(pair.Line); err == nil && ev.Log == log {
			for i, seq := range seqs {
				if seq == ev.Seq {
					hashes[i] = journal.Hash(pair.Line)
				}
			}
		}
	}
	return hashes, nil
}

func (e *events) Incarnation() string { return "life-1" }

func (e *events) Site(site string, after uint64, most int) ([]exchange.Stored, bool, error) {
	var found []exchange.Stored
	for _, p := range e.pairs {
		if ev, err := journal.Parse(p.Line); err == nil && ev.About.Site == site && p.Receipt.N > after {
			e.reads++
			found = append(found, p)
		}
	}
	return found[:min(len(found), most)], len(found) > most, e.broken
}

func (e *events) Last(site string) (uint64, error) {
	pairs, _, err := e.Site(site, 0, 1<<30)
	return uint64(len(pairs)), err
}

func (e *events) Fixture(id string) ([]exchange.Stored, error) {
	var found []exchange.Stored
	for _, p := range e.pairs {
		if ev, err := journal.Parse(p.Line); err == nil && ev.About.Fixture == id {
			found = append(found, p)
		}
	}
	return found, e.broken
}

func (e *events) Asides(after uint64, most int) ([]Aside, error) {
	some := e.asides[min(int(after), len(e.asides)):]
	return slices.Clone(some[:min(most, len(some))]), e.broken
}

func (e *events) Accept(hash string, s Settlement) error {
	for _, a := range e.asides {
		if ev, err := journal.Parse(a.Line); err == nil && a.Hash == hash {
			if _, err := e.Add([]exchange.Incoming{{Line: a.Line, Event: ev, Hash: a.Hash, Receipt: a.Receipt}}); err != nil {
				return err
			}
		}
	}
	return e.Settle(hash, s)
}

func (e *events) Settle(hash string, s Settlement) error {
	for i := range e.asides {
		if e.asides[i].Hash == hash {
			e.asides[i].Settled, e.settled = true, append(e.settled, s)
			return nil
		}
	}
	return &Refusal{Code: "unknown-aside"}
}

// album is the pictures of all events.
func (e *events) album() *record.Album {
	album := record.NewAlbum()
	for _, p := range e.pairs {
		if ev, err := journal.Parse(p.Line); err == nil {
			album.Note(&ev)
		}
	}
	return album
}

func (e *events) AddedBy(fixture, event string) (string, bool, error) {
	by, known := e.album().AddedBy(fixture, event)
	return by, known, e.broken
}

// pictures refuse what was withdrawn.
type pictures struct {
	gone  func() *record.Album
	held  map[string][]byte
	parts map[string][]byte
}

func (p *pictures) refused(hash string) error {
	if p.gone().Withdrawn(hash) {
		return &Refusal{Code: exchange.CodeWithdrawn}
	}
	return nil
}

func (p *pictures) Part(hash string) (int64, bool, error) {
	if err := p.refused(hash); err != nil {
		return 0, false, err
	}
	if data, whole := p.held[hash]; whole {
		return int64(len(data)), true, nil
	}
	return int64(len(p.parts[hash])), false, nil
}

func (p *pictures) Extend(hash string, offset, size int64, body io.Reader) (int64, bool, error) {
	if err := p.refused(hash); err != nil {
		return 0, false, err
	}
	data, err := io.ReadAll(body)
	if err != nil {
		return 0, false, err
	}
	if p.parts == nil {
		p.parts = map[string][]byte{}
	}
	if offset == int64(len(p.parts[hash])) {
		p.parts[hash] = append(p.parts[hash], data...)
	}
	if whole := p.parts[hash]; int64(len(whole)) == size {
		delete(p.parts, hash)
		if err := p.Put(hash, bytes.NewReader(whole)); err != nil {
			return 0, false, err
		}
	}
	return p.Part(hash)
}

func (p *pictures) Put(hash string, body io.Reader) error {
	if err := p.refused(hash); err != nil {
		return err
	}
	data, err := io.ReadAll(body)
	if err != nil {
		return err
	}
	if sum := sha256.Sum256(data); hex.EncodeToString(sum[:]) != hash {
		return &Refusal{Code: "wrong-hash"}
	}
	if p.held == nil {
		p.held = map[string][]byte{}
	}
	p.held[hash] = data
	return nil
}

func (p *pictures) Get(hash string) (io.ReadCloser, error) {
	if data, ok := p.held[hash]; ok {
		return io.NopCloser(bytes.NewReader(data)), nil
	}
	return nil, &Refusal{Code: "unknown-picture"}
}

func (p *pictures) Size(hash string) (int64, error) {
	if err := p.refused(hash); err != nil {
		return 0, err
	}
	if data, ok := p.held[hash]; ok {
		return int64(len(data)), nil
	}
	return 0, &Refusal{Code: "unknown-picture"}
}

type watch struct {
	made chan []string
	to   chan Changed
}

func (w *watch) Subscribe(sites ...string) (<-chan Changed, func()) {
	w.made <- sites
	return w.to, func() {}
}

type drawing struct{}

func (drawing) Label(w io.Writer, code, name, link, size string, at time.Time) error {
	if size == "1x1" {
		return &Refusal{Code: "unknown-size"}
	}
	_, err := fmt.Fprintf(w, "%%PDF %s|%s|%s|%s", code, name, link, size)
	return err
}

func (drawing) Card(w io.Writer, _ time.Time) error {
	_, err := io.WriteString(w, "%PDF card")
	return err
}

func (drawing) Blank(w io.Writer, public string, codes []string, size string, _ time.Time) error {
	if size == "1x1" {
		return &Refusal{Code: "unknown-size"}
	}
	_, err := io.WriteString(w, size+" "+public+" "+strings.Join(codes, " "))
	return err
}

func (drawing) SVG(text string) (string, error) { return "<svg>" + text + "</svg>", nil }

func (drawing) Link(public, code string) string { return strings.ToUpper(public + "/t/" + code) }
