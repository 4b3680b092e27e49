package bolt

import (
	"context"
	"errors"
	"io"
	"os"

	"go.etcd.io/bbolt"
)

// Copy writes the store, as it is at this moment, to w: a file that Open takes. Others read and write meanwhile. When
// ctx ends before it is done, or w breaks, it gives that error.
func (s *Store) Copy(ctx context.Context, w io.Writer) error { return s.file.copy(ctx, w) }

func (f *file) copy(ctx context.Context, w io.Writer) error {
	to := &target{ctx: ctx, to: w}
	err := f.view(func(tx *bbolt.Tx) error {
		_, err := tx.WriteTo(to)
		return err
	})
	if to.err != nil {
		return to.err
	}
	return err
}

// target remembers the error of a writer, which is not the store's, and stops with its context.
type target struct {
	ctx context.Context
	to  io.Writer
	err error
}

func (t *target) Write(p []byte) (n int, err error) {
	if err = t.ctx.Err(); err == nil {
		n, err = t.to.Write(p)
	}
	if t.err == nil {
		t.err = err
	}
	return n, err
}

// CopyFile is Copy of the store in the file at path, which nobody has open. Errors as of Open; a file that is not
// there has fs.ErrNotExist as its cause.
func CopyFile(ctx context.Context, path string, w io.Writer) error {
	f, err := openToRead(path)
	if err != nil {
		return err
	}
	return errors.Join(f.copy(ctx, w), f.close())
}

// Renew gives the store in the file at path, which nobody has open, a new incarnation, so that no cursor that was
// given out before is believed: what comes now may not be what came then.
func Renew(path string, random io.Reader) error {
	if _, err := os.Stat(path); err != nil {
		return failed(err) // bbolt would make a new one
	}
	db, err := openBolt(path, bbolt.Options{})
	if err != nil {
		return err
	}
	f := &file{db: db, migrations: migrations}
	err = f.update(func(tx *bbolt.Tx) error {
		if _, err := f.inspect(tx); err != nil {
			return err
		}
		return f.live(tx, random)
	})
	return errors.Join(err, f.close())
}
