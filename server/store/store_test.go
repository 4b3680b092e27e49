package store

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"syscall"
	"testing"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

func TestFailed(t *testing.T) {
	if Failed(CodeBroken, nil) != nil {
		t.Error("no error became one")
	}
	for cause, code := range map[error]string{
		syscall.ENOSPC: CodeFull, syscall.EDQUOT: CodeFull, syscall.EACCES: CodeDenied, syscall.EPERM: CodeDenied,
		syscall.EROFS: CodeDenied, syscall.EIO: CodeBroken, errors.New("x"): CodeBroken, &Fault{Code: CodeDamaged}: CodeDamaged,
	} {
		err := Failed(CodeBroken, fmt.Errorf("while writing: %w", &fs.PathError{Op: "write", Path: "p", Err: cause}))
		if CodeOf(err) != code || !errors.Is(err, cause) {
			t.Errorf("%v: %v, want %s", cause, err, code)
		}
	}
	if CodeOf(errors.New("x")) != "" || CodeOf(ErrNoBlob) != "unknown-picture" || CodeOf(ErrNoRow) != "" {
		t.Error("codes of what is no fault of a store")
	}
}

func TestCheckKey(t *testing.T) {
	long := strings.Repeat("x", MaxKey)
	for _, c := range []struct {
		table, id string
		good      bool
	}{{"t", "i", true}, {long, long, true}, {"", "i", false}, {"t", "", false}, {long + "x", "i", false}, {"t", long + "x", false}} {
		if err := CheckKey(c.table, c.id); (err == nil) != c.good || !c.good && CodeOf(err) != CodeBadKey {
			t.Errorf("%d and %d bytes: %v", len(c.table), len(c.id), err)
		}
	}
}

// book is a Ledger that breaks at its n-th call.
type book struct{ left int }

var errBook = errors.New("the book broke")

func (b *book) step() error {
	if b.left--; b.left < 0 {
		return errBook
	}
	return nil
}

func (b *book) Hash(string, uint64) (string, error)       { return "", b.step() }
func (b *book) Prev(string, uint64) (string, error)       { return "", b.step() }
func (b *book) SetAside(*exchange.Incoming, string) error { return b.step() }
func (b *book) Resettle(Aside) error                      { return b.step() }
func (b *book) Place(string) (Place, error)               { return Place{}, b.step() }
func (b *book) SetPlace(string, Place) error              { return b.step() }
func (b *book) Copy(string, uint64, string) error         { return b.step() }

func (b *book) Append(*exchange.Incoming, bool, ...string) (uint64, error) { return 1, b.step() }

func (b *book) Apart(hash string) (Aside, error) {
	if hash == "aside" {
		line := `{"v":1,"id":"01890000-0000-7000-8000-00000000000a","log":"01890000-0000-7000-8000-00000000000b","seq":1,"prev":"","tick":1,` +
			`"time":"2026-03-04T05:06:07.089Z","zone":"UTC","by":"p","about":{"site":"s","fixture":"f"},"kind":"look","body":{}}`
		return Aside{N: 1, Hash: hash, Line: journal.Line(line), To: "t"}, b.step()
	}
	return Aside{}, b.step()
}

// A store that breaks while judging gives its error, never a verdict that something is unknown.
func TestJudgePassesErrorsOn(t *testing.T) {
	event := journal.Event{Log: "l", Seq: 2, Prev: "p", About: journal.About{Site: "s"}}
	ofFixture := event
	ofFixture.About.Fixture = "f"
	for name, c := range map[string]struct {
		item  exchange.Incoming
		calls int
	}{
		"into the feed": {exchange.Incoming{Event: event, Hash: "h"}, 5},
		"was aside":     {exchange.Incoming{Event: event, Hash: "aside"}, 6},
		"of a fixture":  {exchange.Incoming{Event: ofFixture, Hash: "h"}, 6},
		"it moves":      {exchange.Incoming{Event: ofFixture, Hash: "h", To: "t"}, 8},
		"aside":         {exchange.Incoming{Event: event, Hash: "h", Aside: "not-allowed"}, 3},
		"unparsable":    {exchange.Incoming{Hash: "h", Aside: "bad-line"}, 1},
	} {
		for left := range c.calls {
			if _, err := Judge(&book{left}, &c.item); err != errBook {
				t.Errorf("%s, broken at call %d: %v", name, left+1, err)
			}
		}
		if _, err := Judge(&book{c.calls}, &c.item); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The same of what a person settles.
func TestSettlingPassesErrorsOn(t *testing.T) {
	for name, c := range map[string]struct {
		settle func(Ledger) error
		calls  int
	}{
		"accepted":  {func(l Ledger) error { return Accept(l, "aside", Settlement{}) }, 9},
		"dismissed": {func(l Ledger) error { return Settle(l, "aside", Settlement{How: Dismissed}) }, 2},
	} {
		for left := range c.calls {
			if err := c.settle(&book{left}); err != errBook {
				t.Errorf("%s, broken at call %d: %v", name, left+1, err)
			}
		}
		if err := c.settle(&book{c.calls}); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
