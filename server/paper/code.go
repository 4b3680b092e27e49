// Package paper draws what leaves the screen: a fixture's tag as a label in true millimetres, sheets of
// labels, and QR codes for the terminal and for a page.
package paper

import (
	"strings"

	"github.com/skip2/go-qrcode"
)

// quiet is the white edge around a code, in modules, that ISO/IEC 18004 asks for. (From memory.)
const quiet = 4

// Fault says why something cannot be drawn. Codes: "text-too-long", "label-too-small", "unknown-size",
// "no-labels", "not-drawn".
type Fault struct {
	Code  string
	Cause error
}

// Error gives the code and the cause.
func (f *Fault) Error() string {
	if f.Cause == nil {
		return "paper: " + f.Code
	}
	return "paper: " + f.Code + ": " + f.Cause.Error()
}

// Unwrap gives the cause.
func (f *Fault) Unwrap() error { return f.Cause }

// Link is what a tag's QR code holds: the public address and the tag's code, all in upper case, which
// makes the symbol smaller. Addresses are the same in either case as long as they have no path.
func Link(public, code string) string {
	return strings.ToUpper(strings.TrimSuffix(public, "/") + "/t/" + code)
}

// Grouped writes a tag's code for reading: ABCDE-FGHJK-C. Other lengths come back as they are.
func Grouped(code string) string {
	if len(code) != 11 {
		return code
	}
	return code[:5] + "-" + code[5:10] + "-" + code[10:]
}

// level is how much of a symbol may be spoilt: Q, a quarter of its words. At the same size of label H has smaller modules: it survives a
// larger loss away from the corners, and Q reads smaller, less sharp and more aslant (testdata/labels/table.md, by the app's own
// reader).
const level = qrcode.High

// modules is the symbol of a text at that level, with its quiet zone;
// true is dark.
func modules(text string) ([][]bool, error) {
	return modulesAt(level, text)
}

func modulesAt(level qrcode.RecoveryLevel, text string) ([][]bool, error) {
	code, err := qrcode.New(text, level)
	if err != nil {
		return nil, &Fault{Code: "text-too-long", Cause: err}
	}
	return code.Bitmap(), nil
}

// run is a horizontal stretch of dark modules.
type run struct{ x, y, n int }

func runs(bitmap [][]bool) []run {
	var found []run
	for y, row := range bitmap {
		for x := 0; x < len(row); x++ {
			from := x
			for x < len(row) && row[x] {
				x++
			}
			if x > from {
				found = append(found, run{from, y, x - from})
			}
		}
	}
	return found
}
