package web

import (
	"bytes"
	"reflect"
	"strings"
	"testing"
	"unsafe"

	"jointwalk/sync/journal"
)

// A lean event says the same, and holds nothing of the line that it was read from.
func TestALeanEventIsTheSameWithoutItsLine(t *testing.T) {
	kept := words{}
	var before string // the place of the first event's log
	for i, text := range strings.Split(strings.TrimSpace(many(t, 3)), "\n") {
		line := journal.Line(text)
		e, err := journal.Glance(line)
		if err != nil {
			t.Fatal(err)
		}
		want, err := journal.Parse(line)
		if err != nil {
			t.Fatal(err)
		}
		got := kept.lean(e)
		for j := range line {
			line[j] = 'x'
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%+v\n%+v", got, want)
		}
		if i > 0 && unsafe.StringData(got.Log) != unsafe.StringData(before) {
			t.Error("two events of one log keep its name twice")
		}
		before = got.Log
	}
	if len(kept) > 6 {
		t.Errorf("%d texts kept for events that share theirs", len(kept))
	}
}

func TestALeanEventWithAllFieldsAndWithFew(t *testing.T) {
	for _, e := range []journal.Event{
		{V: 1, ID: "i", Log: "l", Seq: 2, Prev: "p", Tick: 3, Time: "t", Zone: "z", By: "b", About: journal.About{Site: "s", Fixture: "f", Of: "o"}, Kind: "k", Base: "a", Body: []byte("{}")},
		{V: 1, ID: "i", Log: "l", Seq: 1, Body: []byte(`{"a":1}`)},
		{},
	} {
		got := words{}.lean(e)
		if !reflect.DeepEqual(got, e) && !(len(e.Body) == 0 && len(got.Body) == 0) {
			t.Errorf("%+v, want %+v", got, e)
		}
		if len(e.Body) > 0 && &got.Body[0] == &e.Body[0] || !bytes.Equal(got.Body, e.Body) {
			t.Errorf("the body %s is the line's", got.Body)
		}
	}
}
