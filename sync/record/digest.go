package record

import (
	"jointwalk/sync/journal"
	"jointwalk/sync/lightjson"
)

// Digest is a hash of the states of all fixtures, conflicts included: two books
// that hold the same events have the same digest, whatever order they came in.
// Receipts have no part in it.
func (b *Book) Digest() string {
	var all []byte
	for _, f := range b.Fixtures() {
		raw, err := lightjson.Marshal(f)
		if err != nil {
			panic("record: a state is always JSON: " + err.Error())
		}
		all = append(append(all, raw...), '\n')
	}
	return journal.Hash(all)
}
