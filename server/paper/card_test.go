package paper

import (
	"bytes"
	"slices"
	"testing"
)

// The corners of the card, where its squares meet, are 85.60 mm and 53.98 mm apart (ISO/IEC 7810, ID-1), and the line below is 100 mm.
func TestCardIsInTrueMillimetres(t *testing.T) {
	var pdf bytes.Buffer
	if err := Card(&pdf, day); err != nil {
		t.Fatal(err)
	}
	pages := readPDF(t, pdf.Bytes())
	if len(pages) != 1 || len(pages[0].boxes) != 8 {
		t.Fatalf("%d pages, %d squares", len(pages), len(pages[0].boxes))
	}
	p := pages[0]
	var corners [][2]float64
	for i := 0; i < 8; i += 2 {
		one, two := p.boxes[i], p.boxes[i+1]
		if !near(one[0]+one[2], two[0]) || !near(one[1]+one[3], two[1]) || !near(one[2], 6) || !near(two[3], 6) {
			t.Errorf("squares %v and %v do not meet", one, two)
		}
		corners = append(corners, [2]float64{two[0], two[1]})
	}
	if !near(corners[1][0]-corners[0][0], 85.60) || !near(corners[2][0]-corners[3][0], 85.60) ||
		!near(corners[3][1]-corners[0][1], 53.98) || !near(corners[2][1]-corners[1][1], 53.98) {
		t.Errorf("corners %v", corners)
	}
	long := 0.0
	for _, l := range p.lines {
		long = max(long, l[2]-l[0])
	}
	if !near(long, 100) || !slices.Contains(p.texts, "100 mm") {
		t.Errorf("a line of %v mm, texts %q", long, p.texts)
	}
}
