// Package store says what a store of the server must do, in four small interfaces: Events, Rows, Blobs and
// Watch. Package bolt is the one on disk, memory the one for tests and simulation; the laws that both keep
// are tests in package storetest.
//
// Failures are told apart: an error of this package has a stable code (Fault), what is simply not there has
// a sentinel (ErrNoRow, ErrNoBlob), and a store that broke never says "not there".
package store

import (
	"io"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// Stored is an event as the store gives it back: its line, byte for byte, with its receipt.
type Stored = exchange.Stored

// Events keeps the events of all sites. Its methods may be called at the same time. What it gives may be kept.
type Events interface {
	// Keeper is Add and Upto. Add: a site's numbers n are dense from 1 and no reader sees n before all below it.
	// The rules of its verdicts are those of Judge. An event stands in the feed of its own site and, when its fixture
	// was moved, in that of the fixture's present site too, each with an n of its own.
	exchange.Keeper
	// Feed is Site and Incarnation.
	exchange.Feed
	// Fixture gives all events about a fixture, whatever their site, in the order of arrival, each once, with its
	// receipt from the feed of its own site.
	Fixture(fixture string) ([]Stored, error)
	// Last is the site's highest n, 0 for a site without events.
	Last(site string) (uint64, error)
	// Asides gives at most most of those set aside with N > after, in the order they came.
	Asides(after uint64, most int) ([]Aside, error)
	// Apart gives the one set aside under a hash, or ErrNoAside.
	Apart(hash string) (Aside, error)
	// Accept puts what was set aside into the feeds as it is, with its receipt and a new n, and keeps who did so. An
	// event whose (log, seq) is taken, or that does not chain, stands in the feed beside those of its log. What is settled
	// already stays as it is, without an error. ErrNoAside; CodeBadLine for a line that is no event.
	Accept(hash string, settled Settlement) error
	// Settle keeps that a line stays set aside for good: settled.How is Dismissed or Amended. What is settled already
	// stays as it is, without an error. ErrNoAside, CodeBadSettlement.
	Settle(hash string, settled Settlement) error
}

// Aside is a line that was taken, kept, and left out of every feed.
type Aside struct {
	N       uint64           `json:"n"` // place among those set aside, dense from 1
	Hash    string           `json:"hash"`
	Code    string           `json:"code"`          // why it was set aside, the first time
	Log     string           `json:"log,omitempty"` // "" for a line that could not be parsed
	Seq     uint64           `json:"seq,omitempty"` // 0 for a line that could not be parsed
	Line    journal.Line     `json:"line"`
	Receipt exchange.Receipt `json:"receipt"`           // without N
	To      string           `json:"to,omitempty"`      // the site to which it moves its fixture once accepted, "" for none
	Settled *Settlement      `json:"settled,omitempty"` // nil while it is open
}

// AsideOf is what to keep of an item that is set aside in place n.
func AsideOf(n uint64, item exchange.Incoming, code string) Aside {
	return Aside{N: n, Hash: item.Hash, Code: code, Log: item.Event.Log, Seq: item.Event.Seq, Line: item.Line,
		Receipt: item.Receipt, To: item.To}
}

// Rows keeps the server's own rows: people, devices, sessions, invitations, sites. One table a kind; a row
// is JSON under its id. Its methods may be called at the same time.
type Rows interface {
	// View reads one state of all tables. It gives back the error of read as it is.
	View(read func(RowReader) error) error
	// Change is one transaction: what do wrote and the audit line are kept together or not at all. When do
	// gives an error nothing is kept and Change gives that error back as it is. do must not call View, Change or Keep.
	Change(audit Audit, do func(RowWriter) error) error
	// Keep is Change without an audit line: for what the server notes by itself and often, such as when a phone was here.
	Keep(do func(RowWriter) error) error
	// Audits gives at most most audit lines with N > after, oldest first. Nothing changes or removes one, and each names
	// the hash of the one before.
	Audits(after uint64, most int) ([]Audit, error)
	// Head is the newest audit line, as it was noted with it.
	Head() (Head, error)
}

// RowReader reads rows within View, Change or Keep; it is dead afterwards. The rows it gives may be kept.
type RowReader interface {
	// Get gives a row, or ErrNoRow.
	Get(table, id string) ([]byte, error)
	// Each calls do with every row of a table, in the order of the ids' bytes, until it gives an error, and
	// gives that back. do must not write to the table. A table without rows is no error.
	Each(table string, do func(id string, row []byte) error) error
}

// RowWriter writes rows within Change or Keep. A table or an id that is "" or longer than MaxKey: CodeBadKey.
type RowWriter interface {
	RowReader
	// Put writes a row over what was there. The row is copied.
	Put(table, id string, row []byte) error
	// Drop removes a row. One that is not there: ErrNoRow.
	Drop(table, id string) error
}

// MaxKey is the longest table or id in bytes.
const MaxKey = 1 << 10

// CheckKey refuses a table and id that no row can have with CodeBadKey.
func CheckKey(table, id string) error {
	if table == "" || id == "" || len(table) > MaxKey || len(id) > MaxKey {
		return &Fault{Code: CodeBadKey}
	}
	return nil
}

// Blobs keeps bytes under their SHA-256 in lower-case hexadecimal. Its methods may be called at the same time.
type Blobs interface {
	// Put reads body to its end and keeps it whole or not at all. CodeWrongHash: the bytes have another
	// hash. Keeping what is held already is no error. An error of body is given back as it is.
	Put(hash string, body io.Reader) error
	// Get opens what is held, or gives ErrNoBlob. The caller closes it.
	Get(hash string) (io.ReadCloser, error)
	// Size is in bytes; ErrNoBlob for what is not held.
	Size(hash string) (int64, error)
	// Drop forgets a blob, and what is kept of one that comes in parts; ErrNoBlob where there is neither.
	Drop(hash string) error
	// Part says how many bytes are kept of a blob that comes in parts, 0 for none, or that it is held whole: then
	// have is its size.
	Part(hash string) (have int64, whole bool, err error)
	// Extend adds the bytes of body at offset to what is kept of a blob of size bytes, flushed when it returns, and
	// says as Part what is kept now. An offset other than what was kept adds nothing and is no error. A chunk is kept
	// to its end or not at all: an error of body is given back as it is. With its last byte a blob is held to its hash
	// and becomes whole; another hash gives CodeWrongHash, and nothing is kept. CodeTooLarge: an offset or size
	// below 0, a size above LargestBlob, or a body that goes beyond size; nothing is added.
	Extend(hash string, offset, size int64, body io.Reader) (have int64, whole bool, err error)
}

// LargestBlob is the most bytes of a blob that comes in parts.
const LargestBlob = 15 << 20

// Changed says that a site's feed has grown up to N.
type Changed struct {
	Site string
	N    uint64
}

// Watch tells of changes after they are kept.
type Watch interface {
	// Subscribe tells of the sites named. A slow reader may miss some of a site's changes, never its last. The
	// function ends it and closes the channel; it may be called more than once. A store that closes ends it too.
	Subscribe(sites ...string) (<-chan Changed, func())
}
