package bolt

import (
	"context"
	"io"

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
