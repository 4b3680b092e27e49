package engine

import (
	"encoding/json"

	"jointwalk/calc/call"
	"jointwalk/sync/journal"
	"jointwalk/sync/lightjson"
	"jointwalk/sync/summary"
)

// entry is one entry of the door: arguments and answer as JSON.
type entry func(e *Engine, args []byte) (any, error)

// calls is the door: everything that the worker may ask of the engine.
var calls = map[string]entry{
	"ask":  func(e *Engine, args []byte) (any, error) { return with(args, e.ask) },
	"calc": func(_ *Engine, args []byte) (any, error) { return with(args, reckon) },

	"write":    func(e *Engine, args []byte) (any, error) { return with(args, e.Write) },
	"keep":     func(e *Engine, args []byte) (any, error) { return with(args, e.keep) },
	"draft":    func(e *Engine, args []byte) (any, error) { return with(args, e.draft) },
	"drop":     func(e *Engine, args []byte) (any, error) { return with(args, e.drop) },
	"hold":     func(e *Engine, args []byte) (any, error) { return with(args, e.hold) },
	"standing": func(e *Engine, _ []byte) (any, error) { return e.Standing(), nil },

	"begin":  func(e *Engine, args []byte) (any, error) { return with(args, e.begin) },
	"stop":   func(e *Engine, _ []byte) (any, error) { return e.stop() },
	"wait":   func(e *Engine, _ []byte) (any, error) { return Wait{e.phone.Wait().Milliseconds()}, nil },
	"check":  func(e *Engine, _ []byte) (any, error) { return Nothing{}, e.pool.Check() },
	"export": func(e *Engine, args []byte) (any, error) { return with(args, e.export) },
	"older":  func(e *Engine, args []byte) (any, error) { return with(args, e.older) },
	"unsent": func(e *Engine, _ []byte) (any, error) { return e.unsent(), nil },
}

// with reads the arguments of a call. It must not name the engine in its own type: what a generic function names is kept
// whole for reflection, with all that hangs on it, and the phone has to load it.
func with[In, Out any](args []byte, do func(In) (Out, error)) (any, error) {
	var in In
	if err := lightjson.Unmarshal(args, &in); err != nil {
		return nil, &Fault{Code: CodeBadCall, Field: err.Error()}
	}
	return do(in)
}

func reckon(in Calculate) (any, error) { return call.Do(in.Name, in.In) }

func (e *Engine) ask(in Ask) (any, error) {
	e.desk.Now = e.env.Now().UnixMilli()
	answer, err := summary.Ask(e.desk, in.Question, in.Args)
	e.putUp()
	return answer, err
}

// Call answers one call as JSON: {"ok":…} or {"fault":{"code","field"}}.
func (e *Engine) Call(name string, args []byte) []byte {
	do, known := calls[name]
	if !known {
		return Reply(nil, &Fault{Code: CodeBadCall, Field: name})
	}
	return Reply(do(e, args))
}

// Reply is the JSON of an answer or, when err is not nil, of its fault.
func Reply(answer any, err error) []byte {
	if err == nil {
		var raw []byte
		if raw, err = lightjson.Marshal(answer); err == nil {
			return append(append([]byte(`{"ok":`), raw...), '}')
		}
	}
	raw, bad := lightjson.Marshal(AsFault(err))
	if bad != nil {
		raw = []byte(`{"code":"` + CodeInternal + `"}`)
	}
	return append(append([]byte(`{"fault":`), raw...), '}')
}

// keep remembers a screen's draft, flushed.
func (e *Engine) keep(n Note) (Nothing, error) {
	return Nothing{}, e.pool.State().Put(map[string]json.RawMessage{e.noteKey(n.Key): n.Value})
}

// draft gives a screen's draft back; no Value means that there is none.
func (e *Engine) draft(n Note) (Note, error) {
	value, _ := e.pool.State().Get(e.noteKey(n.Key))
	return Note{Key: n.Key, Value: value}, nil
}

func (e *Engine) drop(n Note) (Nothing, error) {
	return Nothing{}, e.pool.State().Drop(e.noteKey(n.Key))
}

// KeepPicture keeps a picture's bytes until the server has them. Errors: those
// of journal.Pictures.Add.
func (e *Engine) KeepPicture(content []byte) (PictureNote, error) {
	hash := journal.Hash(content)
	e.book.Album.Expect(hash)
	return PictureNote{Hash: hash, Bytes: len(content)}, e.pool.Pictures().Add(hash, content, e.now())
}

// Picture gives a picture's bytes. Errors: those of journal.Pictures.Read.
func (e *Engine) Picture(hash string) ([]byte, error) { return e.pool.Pictures().Read(hash) }

func (e *Engine) unsent() Waiting {
	waiting := Waiting{Pictures: []PictureNote{}}
	for _, p := range e.pool.Pictures().List() {
		if !p.Confirmed {
			waiting.Pictures = append(waiting.Pictures, PictureNote{Hash: p.Hash, Bytes: p.Size})
		}
	}
	return waiting
}
