package paper

import (
	"bytes"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/skip2/go-qrcode"
)

var day = time.Date(2026, 3, 1, 8, 0, 0, 0, time.UTC)

const rounding = 0.004 // mm: the PDF has two decimals of a point

func tagOf(name string) Tag {
	return Tag{Code: "7K3MQ9XWTAC", Name: name, Link: Link("http://leaks.plant.test:8080", "7K3MQ9XWTAC")}
}

func label(t *testing.T, tag Tag, size Size) drawn {
	t.Helper()
	var buf bytes.Buffer
	if err := Label(&buf, tag, size, day); err != nil {
		t.Fatal(err)
	}
	pages := readPDF(t, buf.Bytes())
	if len(pages) != 1 {
		t.Fatalf("%d pages", len(pages))
	}
	return pages[0]
}

func near(a, b float64) bool { return math.Abs(a-b) <= 2*rounding }

func TestPageIsExactlyTheLabel(t *testing.T) {
	for _, size := range Sizes {
		p := label(t, tagOf("Valve bench 3"), size)
		if !near(p.width, size.Width) || !near(p.height, size.Height) {
			t.Errorf("%v: page %.3f × %.3f mm", size, p.width, p.height)
		}
	}
}

// The squares drawn are the symbol's modules, each of one size in both directions, with four clear
// modules around, all on the label.
func TestModulesDrawnAreTheSymbols(t *testing.T) {
	tag := tagOf("Valve bench 3")
	want, err := qrcode.New("HTTP://LEAKS.PLANT.TEST:8080/T/7K3MQ9XWTAC", qrcode.High)
	if err != nil {
		t.Fatal(err)
	}
	bitmap := want.Bitmap()
	for _, size := range Sizes {
		p := label(t, tag, size)
		x0, y0, module := grid(p, len(bitmap)-2*quiet)
		for y, row := range bitmap {
			for x, dark := range row {
				cx, cy := x0+(float64(x-quiet)+0.5)*module, y0+(float64(y-quiet)+0.5)*module
				if cx < 0 || cy < 0 || cx > size.Width || cy > size.Height {
					t.Fatalf("%v: module %d,%d is off the label", size, x, y)
				}
				if p.dark(cx, cy) != dark {
					t.Fatalf("%v: module %d,%d at %.2f,%.2f mm: dark %v, want %v", size, x, y, cx, cy, !dark, dark)
				}
			}
		}
		for _, b := range p.boxes {
			if !whole(b[2], module) || !whole(b[0]-x0, module) || !whole(b[1]-y0, module) || !near(b[3], module) {
				t.Errorf("%v: outline %.3f off the grid of %.3f mm", size, b, module)
			}
		}
		if want := layout(size).side / float64(len(bitmap)); math.Abs(module-want) > rounding/10 {
			t.Errorf("%v: module %.4f mm, want %.4f", size, module, want)
		}
		if module < smallest {
			t.Errorf("%v: module %.3f mm", size, module)
		}
	}
}

// whole tells whether a length is a whole number of modules.
func whole(length, module float64) bool { return near(length, math.Round(length/module)*module) }

// grid finds the corner and module size from the outermost squares.
func grid(p drawn, n int) (x0, y0, module float64) {
	x0, y0 = math.Inf(1), math.Inf(1)
	x1 := 0.0
	for _, b := range p.boxes {
		x0, y0, x1 = min(x0, b[0]), min(y0, b[1]), max(x1, b[0]+b[2])
	}
	return x0, y0, (x1 - x0) / float64(n)
}

func TestQuietZoneIsClearOfInk(t *testing.T) {
	for _, size := range Sizes {
		p := label(t, tagOf("Valve bench 3 with a name of some length"), size)
		n := 0
		if bitmap, err := modules(tagOf("").Link); err == nil {
			n = len(bitmap) - 2*quiet
		}
		x0, y0, m := grid(p, n)
		side := float64(n) * m
		for i, at := range p.at {
			above := at[1] - 3 // a letter's height, generously
			if at[0] < x0+side+quiet*m-0.01 && above < y0+side+0.5*m && at[1] > y0 {
				t.Errorf("%v: %q stands in the code's edge at %v", size, p.texts[i], at)
			}
		}
		for _, l := range p.lines {
			if l[0] < x0+side+quiet*m-0.01 && l[1] < y0+side+quiet*m-0.01 {
				t.Errorf("%v: a line in the code's edge: %v", size, l)
			}
		}
	}
}

func TestRulerIsTwentyMillimetres(t *testing.T) {
	for _, size := range Sizes {
		p := label(t, tagOf("Valve bench 3"), size)
		var flat, ticks []float64
		for _, l := range p.lines {
			if l[1] == l[3] {
				flat = append(flat, l[2]-l[0])
			} else {
				ticks = append(ticks, l[0])
			}
			if l[2] > size.Width || l[3] > size.Height {
				t.Errorf("%v: the ruler leaves the label: %v", size, l)
			}
		}
		if len(flat) != 1 || !near(flat[0], 20) || len(ticks) != 3 || !near(ticks[2]-ticks[0], 20) || !near(ticks[1]-ticks[0], 10) {
			t.Errorf("%v: line %v, ticks %v", size, flat, ticks)
		}
		if !slices.Contains(p.texts, "20 mm") {
			t.Errorf("%v: texts %q", size, p.texts)
		}
	}
}

func TestNamesOfEveryKind(t *testing.T) {
	names := map[string]string{
		"":                         "",
		"Fixture 7 µ ≤ ³":          "Fixture 7 µ ≤ ³",
		"Prüfstand Größe ß":        "Prüfstand Größe ß",
		"banco de vál­vulas Ñandú": "banco de válvulas Ñandú",
		"n\u0303":                  "ñ",
		"a\tb \n c":                "a b c",
		"\U0001F527 pump":          "□ pump",
		"水 tank":                   "□ tank",
		"(a) \\ b":                 "(a) \\ b",
	}
	for name, want := range names {
		p := label(t, tagOf(name), Sizes[3])
		got := strings.Join(p.texts[2:len(p.texts)-1], " ")
		if got != want {
			t.Errorf("%q printed as %q, want %q", name, got, want)
		}
	}
}

func TestLongNamesStayOnTheLabel(t *testing.T) {
	for _, name := range []string{strings.Repeat("W", 400), strings.Repeat("left rear clamp ", 40), strings.Repeat("i", 4000)} {
		for _, size := range Sizes {
			p := label(t, tagOf(name), size)
			last := p.texts[len(p.texts)-2]
			if !strings.HasSuffix(last, "…") {
				t.Errorf("%v: cut without a sign: %q", size, last)
			}
			for i, at := range p.at[:len(p.at)-1] {
				if at[1] > size.Height-4.5 || at[0] > size.Width {
					t.Errorf("%v: line %d %q runs into the ruler at %v", size, i, p.texts[i], at)
				}
			}
		}
	}
}

func TestWrapKeepsWidthAndWords(t *testing.T) {
	measure := func(s string) float64 { return float64(len([]rune(s))) }
	cases := []struct {
		text string
		room int
		want []string
	}{
		{"one two three", 3, []string{"one two", "three"}},
		{"onetwothreefour", 3, []string{"onetwoth", "reefour"}},
		{"one two three four five", 2, []string{"one two", "three…"}},
		{"exactly8", 1, []string{"exactly8"}},
		{"exactly 9", 1, []string{"exactly…"}},
		{"anything", 0, nil},
	}
	for _, c := range cases {
		if got := wrap(c.text, 8, c.room, measure); !slices.Equal(got, c.want) {
			t.Errorf("%q in %d: %q, want %q", c.text, c.room, got, c.want)
		}
	}
	if got := wrap("W", 0.5, 2, measure); len(got) != 1 {
		t.Errorf("a letter wider than the line must not loop or vanish: %q", got)
	}
}

func TestSheet(t *testing.T) {
	var buf bytes.Buffer
	if err := Sheet(&buf, slices.Repeat([]Tag{tagOf("Valve bench")}, 37), Sizes[0], day); err != nil {
		t.Fatal(err)
	}
	pages := readPDF(t, buf.Bytes())
	if len(pages) != 2 || !near(pages[0].width, 210) || !near(pages[0].height, 297) {
		t.Fatalf("%d pages of %.1f × %.1f", len(pages), pages[0].width, pages[0].height)
	}
	count := func(p drawn) (n int) {
		for _, s := range p.texts {
			if s == "7K3MQ" {
				n++
			}
		}
		return n
	}
	if count(pages[0]) != 36 || count(pages[1]) != 1 {
		t.Errorf("labels a page: %d, %d", count(pages[0]), count(pages[1]))
	}
	for _, b := range pages[0].boxes {
		if b[0] < 5 || b[0]+b[2] > 205 || b[1] < 5 || b[1]+b[3] > 292 {
			t.Fatalf("ink where printers cannot print: %v", b)
		}
	}
}

func TestRefusals(t *testing.T) {
	code := func(err error) string {
		var f *Fault
		if errors.As(err, &f) {
			return f.Code
		}
		return ""
	}
	var buf bytes.Buffer
	long := tagOf("x")
	long.Link = strings.Repeat("A", 900)
	if err := Label(&buf, long, Sizes[1], day); code(err) != "label-too-small" {
		t.Errorf("a code too fine to print: %v", err)
	}
	long.Link = strings.Repeat("A", 9000)
	if err := Label(&buf, long, Sizes[0], day); code(err) != "text-too-long" {
		t.Errorf("a text too long for any code: %v", err)
	}
	if err := Sheet(&buf, nil, Sizes[0], day); code(err) != "no-labels" {
		t.Errorf("no labels: %v", err)
	}
	if _, err := SizeOf("50x31"); code(err) != "unknown-size" {
		t.Errorf("size: %v", err)
	}
	if s, err := SizeOf(""); err != nil || s != Sizes[0] {
		t.Errorf("default: %v %v", s, err)
	}
	if s, err := SizeOf("40x40"); err != nil || s != Sizes[1] {
		t.Errorf("40x40: %v %v", s, err)
	}
}
