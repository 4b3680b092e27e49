package paper

import (
	"io"
	"time"
)

// The sides of a card of the size ID-1 (ISO/IEC 7810), in millimetres.
const cardLong, cardShort = 85.60, 53.98

const (
	checked = 6.0   // mm, the side of a square at a corner
	border  = 9.0   // mm of paper around the corners
	check   = 100.0 // mm, the line that shows whether the printer kept the size
)

// Card writes a page of A4 with a card to lay beside a bubble before its picture is taken. A corner is where two dark
// squares meet, which blur does not shift; the four are as far apart as those of an ID-1 card. A line of 100 mm stands below, to be held
// against a rule.
func Card(w io.Writer, at time.Time) error {
	page := Size{210, 297}
	doc := document(page, "", at)
	doc.AddPage()
	left, top := (page.Width-cardLong)/2, 60.0
	doc.SetFillColor(0, 0, 0)
	for _, c := range [4][2]float64{{0, 0}, {cardLong, 0}, {cardLong, cardShort}, {0, cardShort}} {
		x, y := left+c[0], top+c[1]
		outline(doc, x-checked, y-checked, checked, checked)
		outline(doc, x, y, checked, checked)
	}
	doc.DrawPath("F")
	doc.SetDrawColor(170, 170, 170)
	doc.SetLineWidth(0.1)
	doc.Rect(left-border, top-border, cardLong+2*border, cardShort+2*border, "D")
	doc.SetDrawColor(0, 0, 0)
	doc.SetLineWidth(0.2)
	from, y := (page.Width-check)/2, top+cardShort+border+20
	doc.Line(from, y, from+check, y)
	for _, x := range [2]float64{from, from + check} {
		doc.Line(x, y-2, x, y+2)
	}
	doc.SetTextColor(0, 0, 0)
	doc.SetFont("text", "", 11)
	doc.Text(left+cardLong/2-18, top+cardShort/2, "85.60 × 53.98 mm")
	doc.Text(from+check/2-8, y+7, "100 mm")
	return finish(doc, w)
}
