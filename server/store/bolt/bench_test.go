package bolt

import (
	"crypto/rand"
	"fmt"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// BenchmarkPush: so many phones push batches of events, each flushed before its answer, against bbolt alone writing the
// very same keys and values in the same transactions. The store's time has all that it takes to get from bytes to
// disk: parsing and hashing of lines too.
func BenchmarkPush(b *testing.B) {
	for _, phones := range []int{1, 16, 64, 256} {
		for _, batch := range []int{1, 10, 50, 200} {
			b.Run(fmt.Sprintf("phones=%d/batch=%d", phones, batch), func(b *testing.B) { benchPush(b, phones, batch) })
		}
	}
}

// benchSites is how many sites the phones of a benchmark work at.
const benchSites = 20

func uuid(kind, n int) string { return fmt.Sprintf("0189%04x-0000-7000-8000-%012x", kind, n) }

// Each phone looks after one fixture at one site.
func benchSite(phone int) string    { return uuid(3, phone%benchSites) }
func benchFixture(phone int) string { return uuid(4, phone) }

// benchLine is an event as a phone writes it, about 500 bytes.
func benchLine(phone int, seq uint64, prev string) journal.Line {
	return fmt.Appendf(nil, `{"v":1,"id":"%s","log":"%s","seq":%d,"prev":"%s","tick":%d,"time":"2026-03-04T05:06:07.089Z","zone":"Europe/Madrid",`+
		`"by":"%s","about":{"site":"%s","fixture":"%s","of":"%s"},"kind":"look","body":{"joint":"%s","saw":"nothing","seconds":30,"seen":"well"}}`,
		uuid(0, phone<<32|int(seq)), uuid(1, phone), seq, prev, seq, uuid(2, phone), benchSite(phone), benchFixture(phone), uuid(5, phone), uuid(6, int(seq)))
}

// benchPhone writes a log.
type benchPhone struct {
	id   int
	seq  uint64
	prev string
}

// batches is a phone's next pushes, so many of so many events.
func (p *benchPhone) batches(pushes, batch int) [][]journal.Line {
	all := make([][]journal.Line, pushes)
	for i := range all {
		for range batch {
			p.seq++
			line := benchLine(p.id, p.seq, p.prev)
			p.prev = journal.Hash(line)
			all[i] = append(all[i], line)
		}
	}
	return all
}

// incoming is what the exchange makes of pushed lines.
func incoming(b testing.TB, lines []journal.Line) []exchange.Incoming {
	items := make([]exchange.Incoming, len(lines))
	for i, line := range lines {
		event, err := journal.Parse(line)
		if err != nil {
			b.Error(err)
		}
		items[i] = exchange.Incoming{Line: line, Event: event, Hash: journal.Hash(line),
			Receipt: exchange.Receipt{At: "2026-03-04T12:00:00.000Z", Offset: -90, From: "01890000-0000-7000-8000-00000000000d"}}
	}
	return items
}

// benchRound is about how many events are pushed before it is the turn of bbolt alone: in turns, so that whatever else
// the machine does meets both.
const benchRound = 20_000

func benchPush(b *testing.B, phones, batch int) {
	s, side, raw := flushing(b), opened(b, filepath.Join(b.TempDir(), "side.db")), rawStore(b)
	var groups [][]*push // as they went into transactions
	s.gather.commit = func(group []*push) error {
		groups = append(groups, group)
		return s.events.commit(group)
	}
	crowd := make([]benchPhone, phones)
	var took, rawTook time.Duration
	events, txs := 0, 0
	for left := b.N; left > 0; {
		pushes := max(1, min(left, benchRound/batch)/phones)
		work := make([][][]journal.Line, phones)
		for i := range crowd {
			crowd[i].id = i
			work[i] = crowd[i].batches(pushes, batch)
		}
		groups = nil
		took += pushAll(b, s, work)
		rawTook += writeRaw(b, raw, writes(b, side, groups))
		left, events, txs = left-pushes*phones, events+pushes*phones*batch, txs+len(groups)
	}
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(0, "ns/op")
	b.ReportMetric(float64(events)/took.Seconds(), "events/s")
	b.ReportMetric(float64(events)/rawTook.Seconds(), "raw-events/s")
	b.ReportMetric(rawTook.Seconds()/took.Seconds(), "of-raw")
	b.ReportMetric(float64(events)/float64(txs), "events/tx")
}

// flushing is a new store that flushes, as it ships.
func flushing(b testing.TB) *Store {
	s, err := Open(filepath.Join(b.TempDir(), "store.db"), rand.Reader)
	if err != nil {
		b.Fatal(err)
	}
	return s
}

// pushAll lets all phones push at once, each one after the other.
func pushAll(b testing.TB, s *Store, work [][][]journal.Line) time.Duration {
	var all sync.WaitGroup
	var applied atomic.Int64
	begun := time.Now()
	for _, batches := range work {
		all.Go(func() {
			for _, lines := range batches {
				verdicts, err := s.Add(incoming(b, lines))
				if err != nil {
					b.Error(err)
				}
				for _, v := range verdicts {
					if v.Is == exchange.Applied {
						applied.Add(1)
					}
				}
			}
		})
	}
	all.Wait()
	took := time.Since(begun)
	if want := len(work) * len(work[0]) * len(work[0][0]); int(applied.Load()) != want {
		b.Fatalf("%d applied of %d", applied.Load(), want)
	}
	return took
}

// written is a put by the name of its bucket.
type written struct{ bucket, key, value []byte }

// writes finds out which keys and values each transaction wrote, by doing it again on the side.
func writes(b testing.TB, side *Store, groups [][]*push) [][]written {
	all := make([][]written, len(groups))
	for i, group := range groups {
		err := side.file.update(func(tx *bbolt.Tx) error {
			l := newLedger(tx, 1)
			if err := l.take(group); err != nil {
				return err
			}
			l.number()
			names := map[*bbolt.Bucket][]byte{l.events: bucketEvents, l.heads: bucketHeads, l.logs: bucketLogs, l.upto: bucketUpto, l.fixtures: bucketFixtures}
			for _, p := range l.puts {
				all[i] = append(all[i], written{names[p.into], p.key, p.value})
			}
			return l.flush()
		})
		if err != nil {
			b.Fatal(err)
		}
	}
	return all
}

// rawStore is a file of bbolt with the same buckets and options.
func rawStore(b testing.TB) *bbolt.DB {
	s := flushing(b)
	b.Cleanup(func() {
		if err := s.Close(); err != nil {
			b.Error(err)
		}
	})
	return s.file.db
}

// writeRaw writes transactions with bbolt alone.
func writeRaw(b testing.TB, db *bbolt.DB, txs [][]written) time.Duration {
	begun := time.Now()
	for _, tx := range txs {
		if err := db.Update(func(in *bbolt.Tx) error { return putRaw(in, tx) }); err != nil {
			b.Fatal(err)
		}
	}
	return time.Since(begun)
}

func putRaw(in *bbolt.Tx, all []written) error {
	into := map[string]*bbolt.Bucket{}
	for _, name := range [][]byte{bucketEvents, bucketHeads, bucketLogs, bucketUpto, bucketFixtures} {
		into[string(name)] = in.Bucket(name)
	}
	for _, name := range [][]byte{bucketEvents, bucketLogs, bucketFixtures} {
		into[string(name)].FillPercent = 0.9
	}
	for _, w := range all {
		if err := into[string(w.bucket)].Put(w.key, w.value); err != nil {
			return err
		}
	}
	return nil
}
