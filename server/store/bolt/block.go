package bolt

import (
	"encoding/binary"
	"encoding/json"
	"hash/crc32"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// blockSize is how much memory a transaction takes at once, for all the small keys and values that it writes.
const blockSize = 32 << 10

// block hands out memory in pieces. What it gave is never reused: bbolt holds values until they are written.
type block struct{ free []byte }

// piece gives n zero bytes.
func (b *block) piece(n int) []byte {
	if n > len(b.free) {
		if n > blockSize/4 {
			return make([]byte, n)
		}
		b.free = make([]byte, blockSize)
	}
	p := b.free[:n:n]
	b.free = b.free[n:]
	return p
}

// key is numbered in the ledger's memory.
func (l *ledger) key(name string, n uint64) []byte {
	key := l.block.piece(len(name) + 9)
	copy(key, name)
	binary.BigEndian.PutUint64(key[len(name)+1:], n)
	return key
}

// seal is seal, of parts put together, in the ledger's memory.
func (l *ledger) seal(key []byte, parts ...[]byte) []byte {
	n := 4
	for _, part := range parts {
		n += len(part)
	}
	sealed := l.block.piece(n)
	at, check := 4, crc32.Checksum(key, castagnoli)
	for _, part := range parts {
		copy(sealed[at:], part)
		at += len(part)
	}
	binary.BigEndian.PutUint32(sealed, crc32.Update(check, castagnoli, sealed[4:]))
	return sealed
}

// pair is receipt, newline, line, sealed. A receipt as JSON holds no newline.
func (l *ledger) pair(key []byte, line journal.Line, receipt *exchange.Receipt) ([]byte, error) {
	if plain(receipt.At) && plain(receipt.From) && plain(receipt.Seal) {
		l.receipt = journal.AppendReceipt(l.receipt[:0], *receipt)
		return l.seal(key, l.receipt, []byte{'\n'}, line), nil
	}
	raw, err := json.Marshal(receipt)
	return l.seal(key, raw, []byte{'\n'}, line), err
}
