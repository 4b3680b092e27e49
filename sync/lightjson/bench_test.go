package lightjson

import (
	"encoding/json"
	"testing"
)

// speaks is one of the two that write and read.
type speaks struct {
	name  string
	write func(any) ([]byte, error)
	read  func([]byte, any) error
}

var both = []speaks{{"ours", Marshal, Unmarshal}, {"standard", json.Marshal, json.Unmarshal}}

func BenchmarkBoth(b *testing.B) {
	value := every{
		base: base{"019cad21-cf00-7cd8-b274-d67084caaf0e", "look-made"}, Number: 14, Real: 0.34521, Texts: []string{"film", "burst"},
		Many: []inner{{"size", 0.41}, {"time", 0.08}, {"count", 0.02}}, Named: map[string]uint64{"a": 1, "b": 2}, Raw: json.RawMessage(`{"v":1}`),
	}
	text, err := Marshal(&value)
	if err != nil {
		b.Fatal(err)
	}
	for _, how := range both {
		b.Run("write/"+how.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := how.write(&value); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run("read/"+how.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				var into every
				if err := how.read(text, &into); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
