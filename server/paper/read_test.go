package paper

import (
	"bytes"
	"compress/zlib"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// drawn is what a page of a PDF shows, read back from its bytes: millimetres from the upper left corner.
type drawn struct {
	width, height float64
	boxes         [][4]float64 // x, y, width, height of filled outlines
	lines         [][4]float64 // x1, y1, x2, y2 of strokes
	texts         []string
	at            [][2]float64 // where each text starts
}

var (
	mediaBox = regexp.MustCompile(`/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]`)
	streams  = regexp.MustCompile(`(?s)stream\r?\n(.*?)\r?\nendstream`)
	box      = regexp.MustCompile(`(?m)^([\d.-]+) ([\d.-]+) m\n([\d.-]+) ([\d.-]+) l\n([\d.-]+) ([\d.-]+) l\n([\d.-]+) ([\d.-]+) l\nh`)
	stroke   = regexp.MustCompile(`(?m)^([\d.-]+) ([\d.-]+) m ([\d.-]+) ([\d.-]+) l S`)
	shown    = regexp.MustCompile(`(?s)BT ([\d.-]+) ([\d.-]+) Td \((.*?)\) Tj ET`)
)

// readPDF reads back the pages of a document made by this package.
func readPDF(t *testing.T, pdf []byte) []drawn {
	t.Helper()
	size := mediaBox.FindSubmatch(pdf)
	if size == nil {
		t.Fatal("no page size")
	}
	nums := floats(t, size[1:])
	var pages []drawn
	for _, s := range streams.FindAllSubmatch(pdf, -1) {
		content := inflate(s[1])
		if bytes.Contains(content, []byte(" Tj ET")) {
			pages = append(pages, readPage(t, nums[0]*pt, nums[1]*pt, content))
		}
	}
	return pages
}

func readPage(t *testing.T, width, height float64, content []byte) drawn {
	t.Helper()
	page := drawn{width: width, height: height}
	for _, m := range box.FindAllSubmatch(content, -1) {
		n := floats(t, m[1:])
		page.boxes = append(page.boxes, [4]float64{n[0] * pt, height - n[1]*pt, (n[4] - n[0]) * pt, (n[1] - n[5]) * pt})
	}
	for _, m := range stroke.FindAllSubmatch(content, -1) {
		n := floats(t, m[1:])
		page.lines = append(page.lines, [4]float64{n[0] * pt, height - n[1]*pt, n[2] * pt, height - n[3]*pt})
	}
	for _, m := range shown.FindAllSubmatch(content, -1) {
		n := floats(t, m[1:3])
		page.at = append(page.at, [2]float64{n[0] * pt, height - n[1]*pt})
		page.texts = append(page.texts, utf16Text(m[3]))
	}
	return page
}

func inflate(data []byte) []byte {
	r, err := zlib.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil
	}
	plain, err := io.ReadAll(r)
	if err != nil {
		return nil
	}
	return plain
}

func floats(t *testing.T, parts [][]byte) []float64 {
	t.Helper()
	nums := make([]float64, len(parts))
	for i, p := range parts {
		v, err := strconv.ParseFloat(string(p), 64)
		if err != nil {
			t.Fatal(err)
		}
		nums[i] = v
	}
	return nums
}

// utf16Text undoes the escapes of a PDF string in UTF-16.
func utf16Text(raw []byte) string {
	raw = []byte(strings.NewReplacer(`\\`, `\`, `\(`, `(`, `\)`, `)`, `\r`, "\r").Replace(string(raw)))
	var out strings.Builder
	for i := 0; i+1 < len(raw); i += 2 {
		out.WriteRune(rune(raw[i])<<8 | rune(raw[i+1]))
	}
	return out.String()
}

// dark tells whether a point lies in a filled outline.
func (d drawn) dark(x, y float64) bool {
	for _, b := range d.boxes {
		if x >= b[0] && x < b[0]+b[2] && y >= b[1] && y < b[1]+b[3] {
			return true
		}
	}
	return false
}
