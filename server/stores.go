package main

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"sync"

	"jointwalk/server/exif"
	"jointwalk/server/store"
	"jointwalk/server/web"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// storeRefusal tells by its code what a store says no to; the rest broke.
func storeRefusal(err error) error {
	if code := store.CodeOf(err); code != "" {
		return &web.Refusal{Code: code, Cause: err}
	}
	return err
}

// events is the store of events as web asks for it.
type events struct{ store.Events }

func (e events) Add(items []exchange.Incoming) ([]exchange.Verdict, error) {
	verdicts, err := e.Events.Add(items)
	return verdicts, refusal(err)
}

func (e events) Asides(after uint64, most int) ([]web.Aside, error) {
	some, err := e.Events.Asides(after, most)
	return each(some, func(a store.Aside) web.Aside {
		return web.Aside{N: a.N, Hash: a.Hash, Code: a.Code, Log: a.Log, Line: a.Line, Receipt: a.Receipt, Settled: a.Settled != nil}
	}), refusal(err)
}

func (e events) Accept(hash string, s web.Settlement) error {
	return refusal(e.Events.Accept(hash, settlement(s)))
}

func (e events) Settle(hash string, s web.Settlement) error {
	return refusal(e.Events.Settle(hash, settlement(s)))
}

func settlement(s web.Settlement) store.Settlement {
	return store.Settlement{How: s.How, By: s.By, At: s.At.Format(journal.TimeLayout)}
}

// pictures is the store of blobs as web asks for it.
type pictures struct{ store.Blobs }

func (p pictures) Put(hash string, body io.Reader) error {
	_, was, err := p.Blobs.Part(hash)
	if err == nil {
		err = p.Blobs.Put(hash, body)
	}
	if err != nil || was {
		return refusal(err)
	}
	return p.fit(hash)
}

// fit drops what is no whole picture, and one that says where it was taken: the app sends neither.
func (p pictures) fit(hash string) error {
	body, err := p.Blobs.Get(hash)
	if err != nil {
		return refusal(err)
	}
	content, err := io.ReadAll(body)
	if err := errors.Join(err, body.Close()); err != nil {
		return err
	}
	code := ""
	switch {
	case exif.HasLocation(content):
		code = exchange.CodeLocated
	case !exif.Whole(content):
		code = exchange.CodeNotAPicture
	default:
		return nil
	}
	if err := p.Blobs.Drop(hash); err != nil {
		return refusal(err)
	}
	return &web.Refusal{Code: code}
}

func (p pictures) Get(hash string) (io.ReadCloser, error) {
	body, err := p.Blobs.Get(hash)
	return body, refusal(err)
}

func (p pictures) Size(hash string) (int64, error) {
	size, err := p.Blobs.Size(hash)
	return size, refusal(err)
}

func (p pictures) Part(hash string) (int64, bool, error) {
	have, whole, err := p.Blobs.Part(hash)
	return have, whole, refusal(err)
}

func (p pictures) Extend(hash string, offset, size int64, body io.Reader) (int64, bool, error) {
	have, was, err := p.Blobs.Part(hash)
	if err != nil || was {
		return have, was, refusal(err)
	}
	have, whole, err := p.Blobs.Extend(hash, offset, size, body)
	if err == nil && whole {
		err = p.fit(hash)
	}
	return have, whole, refusal(err)
}

// sealed is how many bytes of the mark a receipt bears: 96 bits, as RFC 2404 cuts an HMAC. Each of them is one more to carry to
// every phone, since nothing compresses them.
const sealed = 12

// seal marks receipts with the installation's own key, so that the server knows its word again.
func seal(key []byte) func(string, exchange.Receipt) string {
	return func(hash string, r exchange.Receipt) string {
		mac := hmac.New(sha256.New, key)
		_, _ = fmt.Fprintf(mac, "%s\n%s\n%d\n%s", hash, r.At, r.Offset, r.From) // a hash takes everything
		return hex.EncodeToString(mac.Sum(nil)[:sealed])
	}
}

// watch is the store's watch as web asks for it.
type watch struct{ store.Watch }

func (w watch) Subscribe(sites ...string) (<-chan web.Changed, func()) {
	changes, cancel := w.Watch.Subscribe(sites...)
	told, left := make(chan web.Changed), make(chan struct{})
	go func() {
		defer close(told)
		for change := range changes {
			select {
			case told <- web.Changed(change):
			case <-left:
				return
			}
		}
	}()
	return told, sync.OnceFunc(func() {
		close(left)
		cancel()
	})
}
