package web

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"strings"
	"sync"

	"github.com/labstack/echo/v4"
)

const (
	headerCoding  = "Content-Encoding"
	headerAccepts = "Accept-Encoding"
	coding        = "gzip"
	leastPacked   = 1000 // bytes: a shorter answer travels in one packet anyhow
)

// readBody reads a request's body of at most most bytes, which holds for what comes over the wire and for what it unpacks
// to. A coding other than gzip is refused.
func readBody(c echo.Context, most int64) ([]byte, error) {
	r := c.Request()
	wire := http.MaxBytesReader(c.Response(), r.Body, most)
	switch r.Header.Get(headerCoding) {
	case "", "identity":
		return readUpTo(wire, most, r.ContentLength)
	case coding:
		return unpack(wire, most)
	}
	c.Response().Header().Set(headerAccepts, coding)
	return nil, refuse(http.StatusUnsupportedMediaType, "bad-coding", "bodies come plain or as gzip")
}

// unpackers are used again: each holds 40 kB.
var unpackers = sync.Pool{New: func() any { return new(gzip.Reader) }}

func unpack(wire io.Reader, most int64) ([]byte, error) {
	packed := unpackers.Get().(*gzip.Reader)
	defer unpackers.Put(packed)
	if err := packed.Reset(wire); err != nil {
		return nil, unread(err)
	}
	return readUpTo(http.MaxBytesReader(nil, packed, most), most, 0)
}

// readUpTo reads all. announced is how much that should be, 0 or less when nobody said.
func readUpTo(from io.Reader, most, announced int64) ([]byte, error) {
	var body bytes.Buffer
	body.Grow(int(min(max(announced, 0), most)) + bytes.MinRead)
	if _, err := body.ReadFrom(from); err != nil {
		return nil, unread(err)
	}
	return body.Bytes(), nil
}

// packers are used again: each holds 800 kB. The fastest level: a phone waits for the answer.
var packers = sync.Pool{New: func() any {
	w, err := gzip.NewWriterLevel(nil, gzip.BestSpeed)
	if err != nil {
		panic("web: " + err.Error()) // the level is one of its own
	}
	return w
}}

// reply answers with a body, packed where that is worth it and the caller can unpack it.
func reply(c echo.Context, kind string, body []byte) error {
	if len(body) < leastPacked {
		return c.Blob(http.StatusOK, kind, body)
	}
	h := c.Response().Header()
	h.Set("Vary", headerAccepts)
	if !accepts(c.Request()) {
		return c.Blob(http.StatusOK, kind, body)
	}
	packed, err := pack(body)
	if err != nil {
		return err
	}
	h.Set(headerCoding, coding)
	return c.Blob(http.StatusOK, kind, packed)
}

// replyJSON is reply with a value as JSON.
func replyJSON(c echo.Context, value any) error {
	body, err := json.Marshal(value)
	if err != nil {
		return err
	}
	return reply(c, echo.MIMEApplicationJSON, body)
}

func pack(body []byte) ([]byte, error) {
	w := packers.Get().(*gzip.Writer)
	defer packers.Put(w)
	packed := bytes.NewBuffer(make([]byte, 0, len(body)/4))
	w.Reset(packed)
	_, err := w.Write(body)
	err = errors.Join(err, w.Close())
	return packed.Bytes(), err
}

// accepts says whether a caller names gzip and does not rule it out (RFC 9110, 12.5.3).
func accepts(r *http.Request) bool {
	for _, one := range strings.Split(r.Header.Get(headerAccepts), ",") {
		name, weight, _ := strings.Cut(one, ";")
		if strings.TrimSpace(name) == coding {
			_, q, _ := strings.Cut(weight, "q=")
			return strings.Trim(q, "0. ") != "" || strings.TrimSpace(q) == ""
		}
	}
	return false
}
