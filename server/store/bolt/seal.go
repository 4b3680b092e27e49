package bolt

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"hash/crc32"

	"go.etcd.io/bbolt"

	"jointwalk/server/store"
	"jointwalk/sync/journal"
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// seal puts the CRC-32C of key and value before the value: bbolt has no checksum over its data, and a
// wrong byte must never be read as right. (A key that is lost altogether is seen only where keys are dense.)
func seal(key, value []byte) []byte {
	sealed := binary.BigEndian.AppendUint32(make([]byte, 0, 4+len(value)), sum(key, value))
	return append(sealed, value...)
}

// unseal gives a copy of the value, or CodeDamaged.
func unseal(key, sealed []byte) ([]byte, error) {
	if len(sealed) < 4 || binary.BigEndian.Uint32(sealed) != sum(key, sealed[4:]) {
		return nil, damaged(errors.New("a record does not fit its checksum"))
	}
	return bytes.Clone(sealed[4:]), nil
}

func sum(key, value []byte) uint32 {
	return crc32.Update(crc32.Checksum(key, castagnoli), castagnoli, value)
}

// number is n so that bytes sort as numbers do.
func number(n uint64) []byte { return binary.BigEndian.AppendUint64(nil, n) }

// numbered is the key name|n. A name never holds a zero byte: it is a token of visible characters.
func numbered(name string, n uint64) []byte {
	key := make([]byte, len(name)+9)
	copy(key, name)
	binary.BigEndian.PutUint64(key[len(name)+1:], n)
	return key
}

// nameIn is the name in a key name|n.
func nameIn(key []byte) string { return string(key[:max(0, len(key)-9)]) }

func prefix(name string) []byte { return append([]byte(name), 0) }

// getNumber reads a sealed number; one that is not there is 0.
func getNumber(b *bbolt.Bucket, key []byte) (uint64, error) {
	sealed := b.Get(key)
	if sealed == nil {
		return 0, nil
	}
	return readNumber(key, sealed)
}

func readNumber(key, sealed []byte) (uint64, error) {
	raw, err := unseal(key, sealed)
	if err == nil && len(raw) != 8 {
		err = damaged(errors.New("a number that is none"))
	}
	if err != nil {
		return 0, err
	}
	return binary.BigEndian.Uint64(raw), nil
}

func putNumber(b *bbolt.Bucket, key []byte, n uint64) error { return b.Put(key, seal(key, number(n))) }

// plain holds for what stands between quotes as it is.
func plain(text string) bool {
	for i := range len(text) {
		if c := text[i]; c < ' ' || c > '~' || c == '"' || c == '\\' {
			return false
		}
	}
	return true
}

func readPair(key, sealed []byte) (store.Stored, error) {
	raw, err := unseal(key, sealed)
	if err != nil {
		return store.Stored{}, err
	}
	head, line, _ := bytes.Cut(raw, []byte{'\n'})
	receipt, err := journal.ParseReceipt(head)
	if err == nil {
		return store.Stored{Line: line, Receipt: receipt}, nil
	}
	if err := json.Unmarshal(head, &receipt); err != nil { // what is written here need not be as strict as on the wire
		return store.Stored{}, damaged(err)
	}
	return store.Stored{Line: line, Receipt: receipt}, nil
}

// readSealed reads sealed JSON.
func readSealed(key, sealed []byte, into any) error {
	raw, err := unseal(key, sealed)
	if err != nil {
		return err
	}
	if err := json.Unmarshal(raw, into); err != nil {
		return damaged(err)
	}
	return nil
}
