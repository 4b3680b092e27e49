package journal

import (
	"bytes"
	"strings"

	"jointwalk/sync/lightjson"
)

// poolVersion is the form of the pool's files. A file of a newer form is left alone.
const poolVersion = 1

const (
	streamOwn      = "own"
	streamState    = "state"
	streamPictures = "pictures"
	sitePrefix     = "site:"
)

// header is the first line of a file that a stream has claimed.
type header struct {
	Pool       int    `json:"pool"`
	Generation uint64 `json:"generation"` // grows with every claim: order is by this, never by name
	Stream     string `json:"stream"`
	Mark       string `json:"mark"` // unlike any other claim's, on this device and after any loss
}

func isHeader(line []byte) bool { return bytes.HasPrefix(line, []byte(`{"pool":`)) }

// isHeader says whether a piece is a file's header.
func (p *piece) isHeader() bool { return p.offset == 0 && isHeader(p.line) }

// readHeader finds out what a file holds. An unreadable header is made up for by a guess from what
// follows it, with generation 0. The stream is "" when nothing can be made of the file.
func readHeader(data []byte) header {
	s := scanner{data: data}
	for p, ok := s.next(); ok; p, ok = s.next() {
		var h header
		if p.isHeader() && lightjson.Unmarshal(p.line, &h) == nil {
			if h.Pool != poolVersion {
				return header{}
			}
			return h
		}
		if p.line != nil {
			return guess(data)
		}
	}
	return header{}
}

// guess names the stream of a file whose header is lost: events alone are the own log, events with
// receipts are a site's feed.
func guess(data []byte) header {
	s := scanner{data: data}
	site, receipts := "", false
	for p, ok := s.next(); ok; p, ok = s.next() {
		if p.line == nil {
			continue
		}
		if stream := guessByLine(p.line); stream != "" {
			return header{Stream: stream}
		}
		if isReceipt(p.line) {
			receipts = true
		} else if e, err := Parse(p.line); err == nil && site == "" {
			site = e.About.Site
		}
	}
	switch {
	case site == "":
		return header{}
	case receipts:
		return header{Stream: sitePrefix + site, Mark: "guessed"}
	}
	return header{Stream: streamOwn}
}

func guessByLine(line []byte) string {
	switch {
	case bytes.HasPrefix(line, []byte(statePut)) || bytes.HasPrefix(line, []byte(stateWhole)):
		return streamState
	case bytes.HasPrefix(line, []byte(picturePrefix)):
		return streamPictures
	}
	return ""
}

// siteOf is the site of a feed's stream, "" for another stream.
func siteOf(stream string) string {
	site, ok := strings.CutPrefix(stream, sitePrefix)
	if !ok {
		return ""
	}
	return site
}
