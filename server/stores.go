package main

import (
	"io"
	"sync"

	"jointwalk/server/store"
	"jointwalk/server/web"
	"jointwalk/sync/exchange"
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

// pictures is the store of blobs as web asks for it.
type pictures struct{ store.Blobs }

func (p pictures) Put(hash string, body io.Reader) error { return refusal(p.Blobs.Put(hash, body)) }

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
	have, whole, err := p.Blobs.Extend(hash, offset, size, body)
	return have, whole, refusal(err)
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
