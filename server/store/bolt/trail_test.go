package bolt

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"jointwalk/server/store"
	"jointwalk/sync/journal"
)

// meddling is somebody who writes to the file by hand, with right checksums.
type meddling struct {
	t  *testing.T
	tx *bbolt.Tx
}

func (m meddling) line(n uint64) journal.Line {
	m.t.Helper()
	line, err := unseal(number(n), m.tx.Bucket(bucketAudits).Get(number(n)))
	if err != nil {
		m.t.Fatal(err)
	}
	return line
}

func (m meddling) put(n uint64, line journal.Line) {
	m.t.Helper()
	if err := m.tx.Bucket(bucketAudits).Put(number(n), seal(number(n), line)); err != nil {
		m.t.Fatal(err)
	}
}

// renumbered puts a line into the place of another.
func (m meddling) renumbered(from, to uint64) journal.Line {
	return bytes.Replace(m.line(from), fmt.Appendf(nil, `{"n":%d,`, from), fmt.Appendf(nil, `{"n":%d,`, to), 1)
}

func (m meddling) cut(n uint64) {
	m.t.Helper()
	if err := m.tx.Bucket(bucketAudits).Delete(number(n)); err != nil {
		m.t.Fatal(err)
	}
}

func (m meddling) count(n uint64) {
	m.t.Helper()
	if err := m.tx.Bucket(bucketAudits).SetSequence(n); err != nil {
		m.t.Fatal(err)
	}
}

func (m meddling) note(hash string) {
	m.t.Helper()
	if err := m.tx.Bucket(bucketMeta).Put(keyTrail, seal(keyTrail, []byte(hash))); err != nil {
		m.t.Fatal(err)
	}
}

// meddled is a store of 30 lines after somebody wrote to its file.
func meddled(t *testing.T, edit func(meddling)) string {
	t.Helper()
	path := lived(t)
	s := opened(t, path)
	err := s.file.db.Update(func(tx *bbolt.Tx) error { edit(meddling{t, tx}); return nil })
	if err := errors.Join(err, s.Close()); err != nil {
		t.Fatal(err)
	}
	return path
}

// walked is what a walk over the trail finds wrong.
func walked(t *testing.T, path string) (wrong []string) {
	t.Helper()
	err := ReadTrail(path, func(rows store.Rows) error {
		_, err := store.WalkTrail(rows, func(store.Audit) {}, func(w string) { wrong = append(wrong, w) })
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return wrong
}

// Whatever is changed, removed, inserted, reordered or cut is seen by the check and by a walk over the trail.
func TestMeddlingWithTheTrailIsSeen(t *testing.T) {
	other := func(line journal.Line) journal.Line { return bytes.Replace(line, []byte(`"w"`), []byte(`"v"`), 1) }
	for name, c := range map[string]struct {
		edit func(meddling)
		want string
	}{
		"changed":     {func(m meddling) { m.put(7, other(m.line(7))) }, "line of the trail 8 names another line before it than 7"},
		"changed 1st": {func(m meddling) { m.put(1, other(m.line(1))) }, "line of the trail 2 names another line before it than 1"},
		"changed end": {func(m meddling) { m.put(30, other(m.line(30))) }, "line of the trail 30, the newest, is not the one"},
		"removed":     {func(m meddling) { m.cut(7) }, "line of the trail 7 is missing, 8 comes instead"},
		"removed and closed up": {func(m meddling) {
			for n := uint64(7); n < 30; n++ {
				m.put(n, m.renumbered(n+1, n))
			}
			m.cut(30)
			m.count(29)
		}, "line of the trail 7 names another line before it than 6"},
		"inserted": {func(m meddling) {
			for n := uint64(30); n >= 7; n-- {
				m.put(n+1, m.renumbered(n, n+1))
			}
			m.put(7, other(m.line(7)))
			m.count(31)
		}, "line of the trail 8 names another line before it than 7"},
		"reordered": {func(m meddling) {
			seven, eight := m.renumbered(8, 7), m.renumbered(7, 8)
			m.put(7, seven)
			m.put(8, eight)
		}, "line of the trail 7 names another line before it than 6"},
		"head gone": {func(m meddling) { m.cut(1) }, "line of the trail 1 is missing, 2 comes instead"},
		"head gone and closed up": {func(m meddling) {
			for n := uint64(1); n < 30; n++ {
				m.put(n, m.renumbered(n+1, n))
			}
			m.cut(30)
			m.count(29)
		}, "line of the trail 1 names a line before it"},
		"cut and counted": {func(m meddling) { m.cut(30); m.count(29) }, "line of the trail 29, the newest, is not the one"},
		"note forged":     {func(m meddling) { m.note(strings.Repeat("0", 64)) }, "line of the trail 30, the newest, is not the one"},
	} {
		path := meddled(t, c.edit)
		has := func(f string) bool { return strings.Contains(f, c.want) }
		if got := checked(t, path); !slices.ContainsFunc(got.Faults, has) {
			t.Errorf("%s: the check found %q", name, got.Faults)
		}
		if wrong := walked(t, path); !slices.ContainsFunc(wrong, has) {
			t.Errorf("%s: the walk found %q", name, wrong)
		}
	}
	path := meddled(t, func(m meddling) { m.cut(30) })
	if wrong := walked(t, path); !slices.Equal(wrong, []string{"the trail ends at line 29, but line 30 was noted as the newest"}) {
		t.Errorf("cut: %q", wrong)
	}
}

// What cannot be seen in the file itself, as the docs say: a tail that is cut along with all that was noted of it. A hash
// that was noted elsewhere is no longer there.
func TestATailCutWithItsNoteIsNotSeen(t *testing.T) {
	newest := checked(t, lived(t)).Trail
	path := meddled(t, func(m meddling) {
		m.cut(30)
		m.count(29)
		m.note(journal.Hash(m.line(29)))
	})
	got := checked(t, path)
	if !got.Whole() || got.Trail.N != 29 || newest.N != 30 || got.Trail.Hash == newest.Hash || len(walked(t, path)) != 0 {
		t.Errorf("%+v after %+v", got, newest)
	}
}

// A line that was changed while it was the newest is not covered by the next one.
func TestTheNextChangeCoversNothing(t *testing.T) {
	path := meddled(t, func(m meddling) { m.put(30, bytes.Replace(m.line(30), []byte(`"w"`), []byte(`"v"`), 1)) })
	s := opened(t, path)
	err := s.Change(store.Audit{What: "next"}, func(store.RowWriter) error { return nil })
	if err := errors.Join(err, s.Close()); err != nil {
		t.Fatal(err)
	}
	if got := checked(t, path); len(got.Faults) != 1 || !strings.Contains(got.Faults[0], "line of the trail 31 names another line before it than 30") {
		t.Errorf("%q", got.Faults)
	}
}

// A line that stands in another's place is damage to who reads the trail: it cannot lead in a circle.
func TestALineInAnothersPlace(t *testing.T) {
	path := meddled(t, func(m meddling) { m.put(7, m.line(2)) })
	err := ReadTrail(path, func(rows store.Rows) error { _, err := rows.Audits(0, 100); return err })
	if got := checked(t, path); store.CodeOf(err) != store.CodeDamaged || got.Whole() {
		t.Errorf("%v, %q", err, got.Faults)
	}
}

func TestReadTrailOfWhatCannotBeRead(t *testing.T) {
	never := func(store.Rows) error { t.Error("called"); return nil }
	if err := ReadTrail(filepath.Join(t.TempDir(), "none"), never); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v", err)
	}
	if err := ReadTrail(ofFormat2(t), never); !errors.Is(err, ErrOlder) {
		t.Errorf("%v", err)
	}
	s, _ := fresh(t)
	if err := ReadTrail(s.file.db.Path(), never); store.CodeOf(err) != store.CodeLocked {
		t.Errorf("%v", err)
	}
}

// older are lines of a trail as they were written before format 3.
var older = []string{
	`{"n":1,"at":"2026-03-04T05:06:07Z","by":"","what":"installation made","about":""}`,
	`{"n":2,"at":"2026-03-04T05:06:08Z","by":"p1","what":"invited","about":"A Person's Name"}`,
	`{"n":3,"at":"2026-03-04T05:06:09Z","by":"p1","what":"device invited","about":"p2"}`,
}

// ofFormat2 is a store of format 2 with the older lines.
func ofFormat2(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "store.db")
	s, err := under(path, migrations[:1])
	if err != nil {
		t.Fatal(err)
	}
	err = s.file.db.Update(func(tx *bbolt.Tx) error {
		for i, line := range older {
			meddling{t, tx}.put(uint64(i+1), journal.Line(line))
		}
		return tx.Bucket(bucketAudits).SetSequence(uint64(len(older)))
	})
	if err := errors.Join(err, s.Close()); err != nil {
		t.Fatal(err)
	}
	return path
}

// The lines of an older store are made a chain, without the names that they held, and the next goes on from there.
func TestAnOlderTrailIsChained(t *testing.T) {
	path := ofFormat2(t)
	if got := checked(t, path); !got.Whole() || got.Format != 2 || got.Trail != (store.Head{}) {
		t.Errorf("before: %+v", got)
	}
	s := opened(t, path)
	if err := s.Change(store.Audit{What: "next"}, func(store.RowWriter) error { return nil }); err != nil {
		t.Fatal(err)
	}
	all, err := s.Audits(0, 10)
	if err := errors.Join(err, s.Close()); err != nil {
		t.Fatal(err)
	}
	for i, line := range older {
		var want store.Audit
		if err := json.Unmarshal([]byte(line), &want); err != nil {
			t.Fatal(err)
		}
		if want.What == "invited" {
			want.About = ""
		}
		got := all[i]
		if got.Prev, got.Hash = "", ""; got != want {
			t.Errorf("%+v, want %+v", got, want)
		}
	}
	if got := checked(t, path); !got.Whole() || got.Audits != 4 || got.Trail.Hash != all[3].Hash || len(walked(t, path)) != 0 {
		t.Errorf("after: %+v", got)
	}
	if raw, err := os.ReadFile(filepath.Join(filepath.Dir(path), Before(3))); err != nil || !bytes.Contains(raw, []byte("A Person's Name")) {
		t.Errorf("the copy of before: %v", err)
	}
}
