//go:build js && wasm

// Command core is the engine as the phone's worker runs it: the door between
// JavaScript and package engine. It registers globalThis.jointwalk once and
// then only answers calls.
package main

import (
	"runtime"
	"runtime/debug"
	"syscall/js"
	"time"

	"jointwalk/pwa/core/engine"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// memory is the soft limit for Go's heap: a runaway fails early instead of
// taking the phone with it.
const memory = 192 << 20

// quiet is how long nobody must have called before the collector runs, and worth how many calls leave what it is worth to run
// for: it takes a slow phone a fifth of a second, which a thumb would feel.
const (
	quiet = 3 * time.Second
	worth = 100
)

func main() {
	debug.SetMemoryLimit(memory)
	debug.SetGCPercent(-1) // it runs in quiet moments, and where the limit wants it
	d := &door{}
	js.Global().Set("jointwalk", map[string]any{
		"open":        js.FuncOf(d.open),
		"call":        js.FuncOf(d.call),
		"keepPicture": js.FuncOf(d.keepPicture),
		"picture":     js.FuncOf(d.picture),
		"next":        js.FuncOf(d.next),
		"took":        js.FuncOf(d.took),
	})
	select {}
}

// door holds the engine once it is open.
type door struct {
	engine *engine.Engine
	rest   *time.Timer // until the collector may run
	calls  int         // since it ran
}

// open takes an array of {name, handle, fresh}, where a null handle means memory only, and the app's
// version. It answers the standing.
func (d *door) open(_ js.Value, args []js.Value) any {
	if len(args) != 2 {
		return fault(engine.CodeBadCall)
	}
	d.busy(worth)
	var slots []journal.Slot
	for i := range args[0].Length() {
		slots = append(slots, slot(args[0].Index(i)))
	}
	opened, err := engine.Open(slots, engine.Env{Now: time.Now, Random: random{}, App: args[1].String()})
	if err != nil {
		return string(engine.Reply(nil, err))
	}
	d.engine = opened
	return string(engine.Reply(opened.Standing(), nil))
}

// busy puts off the collector, for what is worth so many calls.
func (d *door) busy(calls int) {
	if d.rest == nil {
		d.rest = time.AfterFunc(quiet, d.collect)
	}
	d.rest.Reset(quiet)
	d.calls += calls
}

func (d *door) collect() {
	if d.calls >= worth {
		runtime.GC()
		d.calls = 0
	}
}

func slot(v js.Value) journal.Slot {
	s := journal.Slot{Name: v.Get("name").String(), Fresh: v.Get("fresh").Bool()}
	if handle := v.Get("handle"); handle.IsNull() || handle.IsUndefined() {
		s.File = &journal.Memory{}
	} else {
		s.File = newFile(handle)
	}
	return s
}

// call takes a name and JSON, and answers JSON.
func (d *door) call(_ js.Value, args []js.Value) any {
	if d.engine == nil || len(args) != 2 {
		return fault(engine.CodeBadCall)
	}
	d.busy(1)
	return string(d.engine.Call(args[0].String(), []byte(args[1].String())))
}

// keepPicture takes the bytes of a picture and answers its note as JSON.
func (d *door) keepPicture(_ js.Value, args []js.Value) any {
	if d.engine == nil || len(args) != 1 {
		return fault(engine.CodeBadCall)
	}
	content := make([]byte, args[0].Length())
	js.CopyBytesToGo(content, args[0])
	note, err := d.engine.KeepPicture(content)
	return string(engine.Reply(note, err))
}

// picture takes a hash and answers a Uint8Array, null when there is none.
func (d *door) picture(_ js.Value, args []js.Value) any {
	if d.engine == nil || len(args) != 1 {
		return js.Null()
	}
	content, err := d.engine.Picture(args[0].String())
	if err != nil {
		return js.Null()
	}
	return toJS(content)
}

// next answers what to carry to the server as {method, path, type, clock, body}, body a Uint8Array; null when the turn is over.
func (d *door) next(js.Value, []js.Value) any {
	if d.engine == nil {
		return js.Null()
	}
	request, some := d.engine.Next()
	if !some {
		return js.Null()
	}
	return map[string]any{"method": request.Method, "path": request.Path, "type": request.Type, "clock": request.Clock, "body": toJS(request.Body)}
}

// took takes the status and the body, a Uint8Array, of what came back; status 0 when nothing did.
func (d *door) took(_ js.Value, args []js.Value) any {
	if d.engine == nil || len(args) != 2 {
		return fault(engine.CodeBadCall)
	}
	d.busy(1)
	body := make([]byte, args[1].Length())
	js.CopyBytesToGo(body, args[1])
	return string(engine.Reply(d.engine.Took(exchange.Reply{Status: args[0].Int(), Body: body}), nil))
}

func fault(code string) string {
	return string(engine.Reply(nil, &engine.Fault{Code: code}))
}
