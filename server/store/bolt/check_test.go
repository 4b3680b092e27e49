package bolt

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	mathrand "math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

const (
	logA = "018f0000-0000-7000-8000-00000000000a"
	logB = "018f0000-0000-7000-8000-00000000000b"
	logC = "018f0000-0000-7000-8000-00000000000c"
)

// lived is a store as real ones are: three logs, two sites, fixtures, events set aside, a hole, rows and a trail.
func lived(t testing.TB) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "store.db")
	s := opened(t, path)
	for i, log := range []string{logA, logB, logC} {
		items := eventsOf(t, log, 60)
		if i == 1 {
			items = slices.Delete(items, 20, 21) // a hole
		}
		items[40].Aside = "not-allowed"
		if _, err := s.Add(items); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := s.Add([]exchange.Incoming{{Line: journal.Line("no event"), Hash: "h", Aside: journal.CodeBadLine}}); err != nil {
		t.Fatal(err)
	}
	for n := range 30 {
		err := s.Change(store.Audit{What: "w"}, func(w store.RowWriter) error {
			return errors.Join(w.Put("people", fmt.Sprint(n), []byte(strings.Repeat("r", 100))), w.Put("sites", "one", []byte("s")))
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

// eventsOf are the first n events of a log.
func eventsOf(t testing.TB, log string, n int) []exchange.Incoming {
	t.Helper()
	l, err := journal.OpenLog(&journal.Memory{}, log)
	if err != nil {
		t.Fatal(err)
	}
	drafts := make([]journal.Draft, n)
	for i := range drafts {
		about := journal.About{Site: fmt.Sprint("site-", i%2), Fixture: fmt.Sprint("fixture-", i%3)}
		if i%10 == 0 {
			about.Fixture = ""
		}
		drafts[i] = journal.Draft{ID: log[:34] + fmt.Sprintf("%02x", i), Time: "2026-03-04T05:06:07.089Z", Zone: "UTC", By: "person", About: about, Kind: "look",
			Body: map[string]string{"word": strings.Repeat("x", 60)}}
	}
	lines, err := l.Append(drafts)
	if err != nil {
		t.Fatal(err)
	}
	items := make([]exchange.Incoming, n)
	for i, line := range lines {
		event, err := journal.Parse(line)
		if err != nil {
			t.Fatal(err)
		}
		items[i] = exchange.Incoming{Line: line, Event: event, Hash: journal.Hash(line), Receipt: exchange.Receipt{At: "at", From: "device"}}
	}
	return items
}

func checked(t testing.TB, path string) *Report {
	t.Helper()
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	report, err := Check(path)
	if err != nil {
		t.Fatal(err)
	}
	if after, err := os.ReadFile(path); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the check wrote to the file, %v", err)
	}
	return report
}

func TestCheckOfAWholeStore(t *testing.T) {
	path := lived(t)
	got := checked(t, path)
	if !got.Whole() {
		t.Errorf("%q", got.Faults)
	}
	if got.Events != 176 || got.Sites != 2 || got.Logs != 3 || got.Asides != 4 || got.Rows != 31 || got.Audits != 30 || got.Format != 1+len(migrations) {
		t.Errorf("%+v", got)
	}
	s, _ := fresh(t)
	empty := s.file.db.Path()
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if got := checked(t, empty); !got.Whole() || got.Events != 0 {
		t.Errorf("%+v", got)
	}
}

// Fixtures that moved and forks that were accepted are no damage.
func TestCheckOfMovedAndAccepted(t *testing.T) {
	path := lived(t)
	s := opened(t, path)
	fork := eventsOf(t, logA, 62)[59:]
	fork[0].Line = append(journal.Line(`{"x":1,`), fork[0].Line[1:]...)
	fork[0].Hash = journal.Hash(fork[0].Line)
	fork[2].To = "site-9"
	for _, item := range fork {
		if _, err := s.Add([]exchange.Incoming{item}); err != nil {
			t.Fatal(err)
		}
	}
	asides, err := s.Asides(0, 100)
	if err != nil || len(asides) != 5 {
		t.Fatalf("%d, %v", len(asides), err)
	}
	for _, hash := range []string{asides[0].Hash, fork[0].Hash} {
		if err := s.Accept(hash, store.Settlement{By: "person", At: "at"}); err != nil {
			t.Fatal(err)
		}
	}
	moved, err := s.Last("site-9")
	if err := errors.Join(err, s.Close()); err != nil {
		t.Fatal(err)
	}
	if got := checked(t, path); !got.Whole() || moved == 0 || got.Sites != 3 {
		t.Errorf("%d moved, %d sites, %q", moved, got.Sites, got.Faults)
	}
	s = opened(t, path)
	err = s.file.db.Update(func(tx *bbolt.Tx) error {
		return tx.Bucket(bucketMoved).ForEach(func(k, _ []byte) error { return tx.Bucket(bucketMoved).Put(k, []byte("spoilt")) })
	})
	if err := errors.Join(err, s.Close()); err != nil {
		t.Fatal(err)
	}
	if got := checked(t, path); len(got.Faults) != 1 || !strings.HasPrefix(got.Faults[0], "where fixture") {
		t.Errorf("%q", got.Faults)
	}
}

func TestCheckOfWhatCannotBeRead(t *testing.T) {
	if _, err := Check(filepath.Join(t.TempDir(), "none")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v", err)
	}
	s, _ := fresh(t)
	if _, err := Check(s.file.db.Path()); store.CodeOf(err) != store.CodeLocked {
		t.Errorf("%v", err)
	}
	if got := checked(t, write(t, filepath.Join(t.TempDir(), "text"), []byte(strings.Repeat("no store ", 2000)))); got.Whole() {
		t.Error("a text is a store")
	}
}

// Each list that does not fit is named, and a fault in one does not hide another's.
func TestCheckNamesWhatIsWrong(t *testing.T) {
	spoilt := func(bucket, key []byte) func(*bbolt.Tx) error {
		return func(tx *bbolt.Tx) error {
			value := bytes.Clone(tx.Bucket(bucket).Get(key))
			value[len(value)-1] ^= 1
			return tx.Bucket(bucket).Put(key, value)
		}
	}
	lost := func(bucket, key []byte) func(*bbolt.Tx) error {
		return func(tx *bbolt.Tx) error { return tx.Bucket(bucket).Delete(key) }
	}
	number8 := func(bucket, key []byte, n uint64) func(*bbolt.Tx) error {
		return func(tx *bbolt.Tx) error { return putNumber(tx.Bucket(bucket), key, n) }
	}
	for want, edit := range map[string]func(*bbolt.Tx) error{
		`feed of site "site-0": event 3: `:                   spoilt(bucketEvents, numbered("site-0", 3)),
		`feed of site "site-1": 2 is missing`:                lost(bucketEvents, numbered("site-1", 2)),
		`head of site "site-0": 7 is noted`:                  number8(bucketHeads, []byte("site-0"), 7),
		`head of site "site-1": 0 is noted`:                  lost(bucketHeads, []byte("site-1")),
		`head of site "none": there is nothing`:              number8(bucketHeads, []byte("none"), 1),
		`is not the one that log ` + logA + ` has as its 5`:  lost(bucketLogs, numbered(logA, 5)),
		`log ` + logB + `: its 9: `:                          spoilt(bucketLogs, numbered(logB, 9)),
		`frontier of log "` + logB + `": 60 is noted, 20 wa`: number8(bucketUpto, []byte(logB), 60),
		`frontier of log "` + logC + `": 0 is noted`:         lost(bucketUpto, []byte(logC)),
		`list of fixture "fixture-1": its 4`:                 spoilt(bucketFixtures, numbered("fixture-1", 4)),
		`list of fixture "fixture-2": 3 are noted`:           number8(bucketFixtures, numbered("fixture-2", 0), 3),
		`list of fixture "fixture-0": 1 is missing`:          lost(bucketFixtures, numbered("fixture-0", 1)),
		`the lists of fixtures hold 160 events of 161`: func(tx *bbolt.Tx) error {
			b := tx.Bucket(bucketFixtures)
			count, err := getNumber(b, numbered("fixture-1", 0))
			return errors.Join(err, b.Delete(numbered("fixture-1", count)), putNumber(b, numbered("fixture-1", 0), count-1))
		},
		`line set aside 2: `:                     spoilt(bucketAsides, number(2)),
		`line set aside 3 is missing`:            lost(bucketAsides, number(3)),
		`line set aside 4 is not known by its h`: lost(bucketApart, []byte("h")),
		`the hash x leads to no line set aside`:  func(tx *bbolt.Tx) error { return tx.Bucket(bucketApart).Put([]byte("x"), number(9)) },
		`row "7" of "people": `: func(tx *bbolt.Tx) error {
			return tx.Bucket(bucketRows).Bucket([]byte("people")).Put([]byte("7"), []byte("spoilt row"))
		},
		`line of the trail 30 is not whole`:       spoilt(bucketAudits, number(30)),
		`line of the trail: 30 were numbered, th`: lost(bucketAudits, number(30)),
		`the list "apart" is missing`:             func(tx *bbolt.Tx) error { return tx.DeleteBucket(bucketApart) },
	} {
		path := lived(t)
		s := opened(t, path)
		if err := errors.Join(s.file.db.Update(edit), s.Close()); err != nil {
			t.Fatal(err)
		}
		if got := checked(t, path); !slices.ContainsFunc(got.Faults, func(f string) bool { return strings.Contains(f, want) }) {
			t.Errorf("want %s, got %q", want, got.Faults)
		}
	}
	path := lived(t)
	s := opened(t, path)
	err := s.file.db.Update(func(tx *bbolt.Tx) error {
		return errors.Join(spoilt(bucketEvents, numbered("site-0", 3))(tx), spoilt(bucketAudits, number(1))(tx))
	})
	if err := errors.Join(err, s.Close()); err != nil {
		t.Fatal(err)
	}
	if got := checked(t, path); len(got.Faults) < 2 {
		t.Errorf("%q", got.Faults)
	}
}

// records is all that a store holds, bucket by bucket, without rows: what is lost of those cannot be seen.
func records(path string) (map[string]string, error) {
	all := map[string]string{}
	f, err := openToRead(path)
	if err != nil {
		return nil, err
	}
	err = f.view(func(tx *bbolt.Tx) error {
		for _, name := range buckets {
			if bytes.Equal(name, bucketRows) {
				continue
			}
			err := tx.Bucket(name).ForEach(func(k, v []byte) error { all[string(name)+string(k)] = string(v); return nil })
			if err != nil {
				return err
			}
		}
		return nil
	})
	return all, errors.Join(err, f.close())
}

// Wherever bytes are spoilt, the check sees it or nothing is lost by it; it never dies of it and never hangs.
func TestCheckOfSpoiltBytes(t *testing.T) {
	random := mathrand.New(mathrand.NewPCG(20260305, 2))
	path := lived(t)
	truth, err := records(path)
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	const rounds = 400
	seen, harmless := 0, 0
	for round := range rounds {
		bad := bytes.Clone(data)
		spoil(random, bad)
		at := write(t, filepath.Join(t.TempDir(), "bad.db"), bad)
		report, err := Check(at)
		if err != nil && store.CodeOf(err) != store.CodeNewer {
			t.Errorf("round %d: %v", round, err)
			continue
		}
		if err != nil || !report.Whole() {
			seen++
			continue
		}
		harmless++
		got, err := records(at)
		if err != nil || !maps.Equal(got, truth) {
			t.Errorf("round %d: %d records of %d, and none said to be damaged, %v", round, len(got), len(truth), err)
		}
	}
	t.Logf("of %d: %d seen, %d harmless", rounds, seen, harmless)
	if seen < rounds/4 {
		t.Error("the damage reached nothing")
	}
}

// Page numbers that lead out of the file, back to where they came from, or to one page twice are told before bbolt follows them.
func TestCheckOfPagesThatLeadAstray(t *testing.T) {
	path := write(t, filepath.Join(t.TempDir(), "store.db"), filled(t))
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	branches, used := 0, &walk{bytes.NewReader(data), 4096, uint64(len(data) / 4096), map[uint64]bool{}}
	m, err := newestMeta(used.file)
	if err := errors.Join(err, used.visit(m.root)); err != nil {
		t.Fatal(err)
	}
	for id := range used.seen {
		at := int(id) * 4096
		if native.Uint16(data[at+8:]) != flagBranch {
			continue
		}
		branches++
		for _, to := range []uint64{0, 1, uint64(at / 4096), native.Uint64(data[at+pageHead+elementSize+8:]), uint64(len(data) / 4096), 1 << 40, 1<<64 - 1} {
			bad := bytes.Clone(data)
			native.PutUint64(bad[at+pageHead+8:], to)
			if err := walkPages(bytes.NewReader(bad), int64(len(bad))); (err == nil) != (to == native.Uint64(data[at+pageHead+8:])) {
				t.Errorf("page %d leads to %d: %v", at/4096, to, err)
			}
			_, _ = Check(write(t, filepath.Join(t.TempDir(), "bad"), bad)) // must come back
		}
	}
	if branches == 0 {
		t.Error("there is no branch")
	}
	for cut := 0; cut < len(data); cut += 3000 {
		if err := walkPages(bytes.NewReader(data[:cut]), int64(cut)); err == nil {
			t.Errorf("cut at %d", cut)
		}
	}
}

// After a renewal the store is the same under another incarnation.
func TestRenew(t *testing.T) {
	path := lived(t)
	before := checked(t, path)
	if err := Renew(path, rand.Reader); err != nil {
		t.Fatal(err)
	}
	after := checked(t, path)
	if len(after.Incarnation) != 32 || after.Incarnation == before.Incarnation {
		t.Errorf("%s, then %s", before.Incarnation, after.Incarnation)
	}
	after.Incarnation = before.Incarnation
	if fmt.Sprint(before) != fmt.Sprint(after) {
		t.Errorf("%v\n%v", before, after)
	}
	if err := Renew(filepath.Join(t.TempDir(), "none"), rand.Reader); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v", err)
	}
	if err := Renew(path, strings.NewReader("short")); err == nil {
		t.Error("renewed without randomness")
	}
}

func TestCopyFile(t *testing.T) {
	path := lived(t)
	var copied bytes.Buffer
	if err := CopyFile(context.Background(), path, &copied); err != nil {
		t.Fatal(err)
	}
	a, b := checked(t, path), checked(t, write(t, filepath.Join(t.TempDir(), "copy"), copied.Bytes()))
	if fmt.Sprint(a) != fmt.Sprint(b) {
		t.Errorf("%v\n%v", a, b)
	}
	s := opened(t, path)
	if err := CopyFile(context.Background(), path, &copied); store.CodeOf(err) != store.CodeLocked {
		t.Errorf("open elsewhere: %v", err)
	}
	if err := s.Close(); err != nil {
		t.Error(err)
	}
}
