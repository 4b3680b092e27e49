package simworld

import (
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"jointwalk/server/album"
	"jointwalk/server/store"
	"jointwalk/server/store/bolt"
	"jointwalk/server/store/memory"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// driven are the shipped functions that the stories run, each with the file that it stands in.
var driven = map[string][]any{
	"sync/journal/pool.go":          {journal.OpenPool, (*journal.Pool).Check, (*journal.Pool).Log, (*journal.Pool).State, (*journal.Pool).Pictures},
	"sync/journal/streams.go":       {(*journal.Pool).Site, (*journal.Pool).Sites, (*journal.Pool).DropSite},
	"sync/journal/own.go":           {(*journal.Pool).Recycle},
	"sync/journal/log.go":           {(*journal.Log).Append, (*journal.Log).Renew},
	"sync/journal/read.go":          {(*journal.Log).After, (*journal.Log).Each, (*journal.Log).Count},
	"sync/journal/feed.go":          {(*journal.Feed).Append, (*journal.Feed).Each, (*journal.Feed).Holds, (*journal.Feed).Frontier},
	"sync/journal/state.go":         {(*journal.State).Put, (*journal.State).Set, (*journal.State).Load, (*journal.State).Drop},
	"sync/journal/pictures.go":      {(*journal.Pictures).Add, (*journal.Pictures).Hold, (*journal.Pictures).Read, (*journal.Pictures).Confirm, (*journal.Pictures).Unconfirm, (*journal.Pictures).Drop, (*journal.Pictures).List},
	"sync/journal/event.go":         {journal.Parse, journal.Hash},
	"sync/exchange/phone.go":        {exchange.OpenPhone, (*exchange.Phone).Begin, (*exchange.Phone).Next, (*exchange.Phone).Took, (*exchange.Phone).Wait, (*exchange.Phone).Me},
	"sync/exchange/doing.go":        {(*exchange.Phone).Stop, (*exchange.Phone).Resume},
	"sync/exchange/standing.go":     {(*exchange.Phone).Standing, (*exchange.Phone).Export},
	"sync/exchange/outbox.go":       {(*exchange.Outbox).Next, (*exchange.Outbox).Answer, (*exchange.Outbox).Lower, (*exchange.Outbox).Forget},
	"sync/exchange/inbox.go":        {(*exchange.Inbox).Apply, (*exchange.Inbox).Cursor, (*exchange.Inbox).Forget},
	"sync/exchange/backoff.go":      {(*exchange.Backoff).Failed, (*exchange.Backoff).Succeeded},
	"sync/exchange/hall.go":         {exchange.SplitBatch, (*exchange.Hall).Push, (*exchange.Hall).Fill, (*exchange.Hall).Compare},
	"sync/exchange/pull.go":         {(*exchange.Hall).Pull},
	"sync/exchange/welcoming.go":    {(*exchange.Hall).Meet},
	"sync/record/book.go":           {record.NewBook, (*record.Book).Add, (*record.Book).Fixtures},
	"sync/record/album.go":          {record.NewAlbum, (*record.Album).Note, (*record.Album).Expect, (*record.Album).Wanted, (*record.Album).Clear},
	"server/album/album.go":         {album.New, (*album.Album).Sweep, (*album.Album).Events, (*album.Album).Blobs},
	"sync/record/digest.go":         {(*record.Book).Digest},
	"sync/record/table.go":          {record.CheckBody},
	"server/store/judge.go":         {store.Judge},
	"server/store/settle.go":        {store.Accept},
	"server/store/chunk.go":         {store.Chunk},
	"server/store/memory/events.go": {(*memory.Events).Add, (*memory.Events).Accept, (*memory.Events).Site, (*memory.Events).Upto, (*memory.Events).Fed, (*memory.Events).Stand, (*memory.Events).Fixture},
	"server/store/memory/blobs.go":  {(*memory.Blobs).Extend, (*memory.Blobs).Part},
	"server/store/bolt/open.go":     {bolt.Open, (*bolt.Store).Close},
	"server/store/bolt/backup.go":   {(*bolt.Store).Copy, bolt.Renew},
}

// TestDrivesWhatIsShipped: each function stands where it is shipped, none in a test, and the parts of a world are of the
// shipped types.
func TestDrivesWhatIsShipped(t *testing.T) {
	root := must(filepath.Abs("../.."))
	for file, functions := range driven {
		for _, f := range functions {
			code := runtime.FuncForPC(reflect.ValueOf(f).Pointer())
			from, _ := code.FileLine(code.Entry())
			if got := strings.TrimPrefix(from, root+"/"); got != file {
				t.Errorf("%s stands in %s, not in %s", code.Name(), got, file)
			}
			if !strings.HasPrefix(code.Name(), "jointwalk/"+filepath.Dir(file)+".") {
				t.Errorf("%s is no function of %s", code.Name(), filepath.Dir(file))
			}
		}
	}
	for _, open := range []factory{inMemory, onDisk(t.TempDir())} {
		w := newWorld(1)
		w.populate(open)
		w.phones[0].open()
		var _ *exchange.Hall = w.server.hall
		var _ *journal.Pool = w.phones[0].pool
		var _ *exchange.Phone = w.phones[0].phone
		switch w.server.vault.events.(type) {
		case *memory.Events, *bolt.Store:
		default:
			t.Errorf("the store is a %T", w.server.vault.events)
		}
		w.server.vault.close()
	}
}
