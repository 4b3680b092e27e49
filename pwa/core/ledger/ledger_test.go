package main

import (
	"maps"
	"testing"
)

// module is a WebAssembly module with one imported function and two of its own, of 2 and 4 bytes,
// named by the core specification's binary format.
var module = []byte("\x00asm\x01\x00\x00\x00" +
	"\x02\x07\x01" + "\x01a\x01b" + "\x00\x00" + // import a.b, a function of type 0
	"\x0a\x09\x02" + "\x02\x00\x0b" + "\x04\x00\x01\x01\x0b" + // two bodies
	"\x00\x25" + "\x04name" + "\x01\x1e\x03" + // the name section, function names
	"\x00\x01b" + "\x01\x0afmt.Printf" + "\x02\x0cx_y.(*T).run")

func TestFunctionSizes(t *testing.T) {
	sizes, err := functionSizes(module)
	if want := (map[string]int{"fmt.Printf": 2, "x_y.(*T).run": 4}); err != nil || !maps.Equal(sizes, want) {
		t.Errorf("%v %v, want %v", sizes, err, want)
	}
	for cut := range module {
		if sizes, err := functionSizes(module[:cut]); err == nil {
			t.Errorf("cut at %d: %v", cut, sizes)
		}
	}
}

func TestSizesByPackage(t *testing.T) {
	got := byPackage(map[string]int{
		"fmt.Printf": 1, "fmt.(*pp).printValue": 2, "encoding/json.Marshal": 4,
		"slices.SortFunc[go.shape.[]*jointwalk/sync/record.T]": 8, "rt0": 16,
	})
	if want := (map[string]int{"fmt": 3, "encoding/json": 4, "slices": 8, "other": 16}); !maps.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
