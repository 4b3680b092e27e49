package main

import (
	"net/http"

	"jointwalk/sync/exchange"
)

// wire tells how many bytes an event takes on the wire, packed as a phone packs it, in large and in small batches; with
// the heads of the requests, and the answers apart.
func wire(p plan, say func(string, ...any)) error {
	return with(p, 2, 0, func(w *world, s *server) error {
		a, err := newAuthor(w, w.phones[0].person, 2)
		if err != nil {
			return err
		}
		writer, reader := newClient(s.url(), w.phones[0].token), newClient(s.url(), w.phones[1].token)
		if err := writer.meet(a.log.ID()); err != nil {
			return err
		}
		cursor, err := reader.toTheEnd(w.site, "")
		if err != nil {
			return err
		}
		for _, n := range []int{200, 10, 1} {
			lines, err := a.some(n)
			if err != nil {
				return err
			}
			plain := exchange.Batch{Lines: lines}.Body()
			body, packed := plain, len(plain) >= leastPacked
			if packed {
				body = zip(plain)
			}
			up, down := writer.up.Load(), writer.down.Load()
			_, err = writer.ask(exchange.Request{Method: http.MethodPost, Path: exchange.PathPush, Type: "application/x-ndjson", Body: body}, packed)
			if err != nil {
				return err
			}
			up, down = writer.up.Load()-up, writer.down.Load()-down
			back := reader.down.Load()
			if cursor, err = reader.toTheEnd(w.site, cursor); err != nil {
				return err
			}
			back = reader.down.Load() - back
			each := func(bytes int64) float64 { return float64(bytes) / float64(n) }
			say("bytes an event, batches of %d: line %.0f; push %.0f packed, %.0f with its head, its answer %.0f; pull %.0f with its head and receipts", n,
				each(int64(len(plain))), each(int64(len(body))), each(up), each(down), each(back))
		}
		return nil
	})
}

// leastPacked is from where on a phone packs, in bytes.
const leastPacked = 1000

// toTheEnd pulls from a cursor on until there is no more, and gives the cursor then.
func (c *client) toTheEnd(site, cursor string) (string, error) {
	for more := true; more; {
		body, err := c.slice(site, cursor, true)
		if err != nil {
			return "", err
		}
		if cursor, more, err = endOf(body); err != nil {
			return "", err
		}
	}
	return cursor, nil
}
