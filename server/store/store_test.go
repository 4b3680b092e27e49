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

func (b *book) Hash(string, uint64) (string, error)      { return "", b.step() }
func (b *book) Prev(string, uint64) (string, error)      { return "", b.step() }
func (b *book) Append(exchange.Incoming) error           { return b.step() }
func (b *book) SetAside(exchange.Incoming, string) error { return b.step() }

// A store that breaks while judging gives its error, never a verdict that something is unknown.
func TestJudgePassesErrorsOn(t *testing.T) {
	event := journal.Event{Log: "l", Seq: 2, Prev: "p", About: journal.About{Site: "s"}}
	for name, c := range map[string]struct {
		item  exchange.Incoming
		calls int
	}{
		"into the feed": {exchange.Incoming{Event: event, Hash: "h"}, 4},
		"aside":         {exchange.Incoming{Event: event, Hash: "h", Aside: "not-allowed"}, 2},
		"unparsable":    {exchange.Incoming{Hash: "h", Aside: "bad-line"}, 1},
	} {
		for left := range c.calls {
			if _, err := Judge(&book{left}, c.item); err != errBook {
				t.Errorf("%s, broken at call %d: %v", name, left+1, err)
			}
		}
		if _, err := Judge(&book{c.calls}, c.item); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
