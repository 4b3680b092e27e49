package bolt

import (
	"errors"
	"fmt"
	"os"
	"slices"

	"go.etcd.io/bbolt"

	"jointwalk/server/store"
)

// mostFaults bounds how many faults a Report names.
const mostFaults = 50

// Report is what Check found.
type Report struct {
	Format                                    int
	Incarnation                               string
	Events, Sites, Logs, Asides, Rows, Audits int
	Trail                                     store.Head // the newest line of the trail; zero before format 3
	Faults                                    []string   // what is wrong, in plain words; at most 50
	More                                      int        // how many faults are not named
}

// Whole says that nothing was found wrong.
func (r *Report) Whole() bool { return len(r.Faults) == 0 }

func (r *Report) say(format string, args ...any) {
	if len(r.Faults) == mostFaults {
		r.More++
		return
	}
	r.Faults = append(r.Faults, fmt.Sprintf(format, args...))
}

// Check reads all of the store in the file at path, which nobody may have open, and writes nothing: the pages of the
// file, the checksum of each record, and that all lists fit each other. An error says that it could not be read at
// all; what is damaged stands in the report.
func Check(path string) (*Report, error) {
	report := &Report{}
	f, err := openToRead(path)
	if store.CodeOf(err) == store.CodeDamaged {
		report.say("the file is no store, or is cut: %v", err)
		return report, nil
	}
	if err != nil {
		return nil, err
	}
	whole, err := f.checkPages(report)
	if err == nil && whole {
		err = f.checkContents(report)
	}
	return report, errors.Join(err, f.close())
}

// openToRead opens a store without writing to it, whatever its format. A file that is not there: CodeBroken, with
// fs.ErrNotExist as its cause.
func openToRead(path string) (*file, error) {
	db, err := openBolt(path, bbolt.Options{ReadOnly: true})
	if err != nil {
		return nil, err
	}
	f := &file{db: db, migrations: migrations}
	if err := f.view(func(tx *bbolt.Tx) error { _, err := f.inspect(tx); return err }); err != nil {
		return nil, errors.Join(err, f.close())
	}
	return f, nil
}

// checkPages walks the pages, and if they hold together lets bbolt check them. It says whether they can be read on.
func (f *file) checkPages(report *Report) (whole bool, err error) {
	raw, err := os.Open(f.db.Path())
	if err != nil {
		return false, failed(err)
	}
	defer raw.Close() // read only: closing cannot lose anything
	size, err := f.size()
	if err != nil {
		return false, failed(err)
	}
	if err := walkPages(raw, size); err != nil {
		report.say("the pages of the file do not hold together: %v", err)
		return false, nil
	}
	err = f.view(func(tx *bbolt.Tx) error {
		for fault := range tx.Check() {
			report.say("the pages of the file: %v", fault)
		}
		return nil
	})
	return report.Whole(), err
}

// checkContents looks at each bucket. Damage in one does not hide that in another.
func (f *file) checkContents(report *Report) error {
	return f.view(func(tx *bbolt.Tx) error {
		version, err := f.inspect(tx)
		if err != nil {
			return err
		}
		report.Format, report.Incarnation = version, f.incarnation
		for _, name := range buckets {
			if tx.Bucket(name) == nil && version == f.newest() {
				report.say("the list %q is missing", name)
				return nil
			}
		}
		c := &contents{Report: report, tx: tx, heads: map[string]uint64{}, upto: map[string]uint64{}}
		for _, look := range []func() error{c.feeds, c.logs, c.asides, c.fixtures, c.moves, c.rows, c.audits} {
			if err := f.guard(look); err != nil {
				report.say("%v", err)
			}
		}
		return nil
	})
}

// numberedKeys calls do with each record of a bucket whose keys are name|n, and tells of keys that are not dense from first.
func numberedKeys(b *bbolt.Bucket, first uint64, report *Report, what string, do func(name string, n uint64, key, sealed []byte)) error {
	last, next := "", first
	return b.ForEach(func(key, sealed []byte) error {
		name, n, good := splitKey(key)
		if !good {
			report.say("%s: a key that is none: %q", what, key)
			return nil
		}
		if name != last {
			last, next = name, first
		}
		if n != next {
			report.say("%s %q: %d is missing, %d comes instead", what, name, next, n)
		}
		next = n + 1
		do(name, n, slices.Clone(key), sealed)
		return nil
	})
}

// splitKey is the reverse of numbered.
func splitKey(key []byte) (name string, n uint64, good bool) {
	at := len(key) - 9
	if at < 0 || key[at] != 0 {
		return "", 0, false
	}
	for _, b := range key[at+1:] {
		n = n<<8 | uint64(b)
	}
	return string(key[:at]), n, true
}
