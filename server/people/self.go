package people

import (
	"bytes"
	"errors"
	"io"

	"jointwalk/server/store"
)

// keyLength of the key of receipts is in bytes.
const keyLength = 32

// self is the installation's own row.
type self struct {
	Installation string `json:"installation"`
}

// keyRow keeps a key. It stands in the rows as it is, so that a backup brings it along.
type keyRow struct {
	Key []byte `json:"key"`
}

// findSelf reads what the installation is, and makes what it lacks.
func (g *Gate) findSelf() error {
	var own self
	err := g.own("installation", &own, "installation made", func() (err error) {
		own.Installation, err = g.newID()
		return err
	})
	if err != nil {
		return err
	}
	var kept keyRow
	err = g.own("receipt-key", &kept, "receipt key made", func() error {
		kept.Key = make([]byte, keyLength)
		_, err := io.ReadFull(g.random, kept.Key)
		return err
	})
	if err == nil && len(kept.Key) != keyLength {
		err = errors.New("people: the key of receipts is spoilt")
	}
	g.installation, g.key = own.Installation, kept.Key
	return err
}

// own reads a row of the installation itself into row; one that is not there is made and kept.
func (g *Gate) own(id string, row any, made string, make func() error) error {
	err := g.rows.View(func(r store.RowReader) error { return get(r, tableSelf, id, row) })
	if !errors.Is(err, store.ErrNoRow) {
		return err
	}
	if err := make(); err != nil {
		return err
	}
	return g.change("", made, "", func(w store.RowWriter) error { return put(w, tableSelf, id, row) })
}

// Installation is the id of this installation, a UUID.
func (g *Gate) Installation() string { return g.installation }

// ReceiptKey is what the server seals its receipts with: 32 random bytes, made once with the installation.
func (g *Gate) ReceiptKey() []byte { return bytes.Clone(g.key) }
