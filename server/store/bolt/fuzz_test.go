package bolt

import (
	"bytes"
	"reflect"
	"testing"
	"unicode/utf8"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// Whatever stands under a key is read as what was sealed for it, or is damaged.
func FuzzUnseal(f *testing.F) {
	f.Add([]byte("site\x00\x00\x00\x00\x00\x00\x00\x00\x01"), seal([]byte("k"), []byte("value")))
	f.Add([]byte("k"), seal([]byte("k"), []byte("value")))
	f.Add([]byte("k"), seal([]byte("k"), number(7)))
	f.Add([]byte(""), []byte{0, 0, 0})
	f.Add([]byte(""), []byte{0, 0, 0, 0})
	f.Fuzz(func(t *testing.T, key, sealed []byte) {
		raw, err := unseal(key, sealed)
		switch {
		case err != nil && store.CodeOf(err) != store.CodeDamaged:
			t.Errorf("%v", err)
		case err == nil && !bytes.Equal(seal(key, raw), sealed):
			t.Errorf("%q was never sealed for %q", sealed, key)
		}
		wantsDamage(t, err != nil, key, sealed)
		var l ledger
		if a, b := l.seal(key, sealed[:len(sealed)/2], sealed[len(sealed)/2:]), seal(key, sealed); !bytes.Equal(a, b) {
			t.Errorf("sealed in two ways: %q %q", a, b)
		}
	})
}

// wantsDamage: what does not unseal is damaged to all who read it.
func wantsDamage(t *testing.T, bad bool, key, sealed []byte) {
	var aside store.Aside
	_, err1 := readPair(key, sealed)
	_, err2 := readNumber(key, sealed)
	err3 := readSealed(key, sealed, &aside)
	for i, err := range []error{err1, err2, err3} {
		if code := store.CodeOf(err); bad && code != store.CodeDamaged || err != nil && code != store.CodeDamaged {
			t.Errorf("%d: %v", i, err)
		}
	}
}

// Records whose checksum is right, but that hold anything, are read or are damaged.
func FuzzRecords(f *testing.F) {
	pair, err := new(ledger).pair([]byte("k"), journal.Line("line"), &exchange.Receipt{N: 1, At: "2026-03-04T12:00:00.000Z", From: "d"})
	if err != nil {
		f.Fatal(err)
	}
	f.Add([]byte("k"), pair[4:])
	f.Add([]byte("k"), []byte(`{"n":1,"at":"\"","offset":1e3,"from":null}`+"\n"))
	f.Add([]byte("k"), number(1))
	f.Add([]byte("\x00\x00\x00\x00\x00\x00\x00\x00\x00"), []byte("{}"))
	f.Fuzz(func(t *testing.T, key, raw []byte) {
		sealed := seal(key, raw)
		wantsDamage(t, false, key, sealed)
		if n, err := readNumber(key, sealed); err == nil && !bytes.Equal(number(n), raw) {
			t.Errorf("%q read as %d", raw, n)
		}
		if name := nameIn(key); len(key) >= 9 && !bytes.HasPrefix(key, []byte(name)) || len(key) < 9 && name != "" {
			t.Errorf("name %q in %q", name, key)
		}
	})
}

// An event comes back with its receipt, byte for byte, whatever stands in it.
func FuzzPair(f *testing.F) {
	f.Add("site", uint64(1), []byte("line\nof two"), "2026-03-04T12:00:00.000Z", int64(-90), "d", "0f")
	f.Add("", uint64(1<<63), []byte{}, "a\"b\\", int64(0), "\n", "<&>\u2028")
	if reflect.TypeFor[exchange.Receipt]().NumField() != 5 {
		f.Error("a receipt has another field: it belongs into this test")
	}
	f.Fuzz(func(t *testing.T, name string, n uint64, line []byte, at string, offset int64, from, mark string) {
		if !utf8.ValidString(at) || !utf8.ValidString(from) || !utf8.ValidString(mark) {
			return // JSON has no such strings
		}
		receipt := exchange.Receipt{N: n, At: at, Offset: offset, From: from, Seal: mark}
		var l ledger
		key := l.key(name, n)
		if !bytes.Equal(key, numbered(name, n)) || nameIn(key) != name {
			t.Errorf("key %q", key)
		}
		sealed, err := l.pair(key, line, &receipt)
		if err != nil {
			t.Fatal(err)
		}
		got, err := readPair(key, sealed)
		if err != nil || !bytes.Equal(got.Line, line) || got.Receipt != receipt {
			t.Errorf("%+v %q, %v, want %+v", got.Receipt, got.Line, err, receipt)
		}
	})
}
