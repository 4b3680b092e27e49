package paper

import (
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gomonobold"
	"golang.org/x/image/font/gofont/goregular"
)

// Tag is what a label shows.
type Tag struct {
	Code string // eleven characters
	Name string // the fixture's; may be empty, for a blank tag
	Link string // see Link
}

// Size is a label's width and height in millimetres.
type Size struct{ Width, Height float64 }

// String gives the form that SizeOf reads: 50x30.
func (s Size) String() string { return fmt.Sprintf("%gx%g", s.Width, s.Height) }

// Sizes are those on offer, the default first.
var Sizes = []Size{{50, 30}, {40, 40}, {60, 40}, {100, 60}}

// SizeOf finds a size by its name; "" is the default. Others give "unknown-size".
func SizeOf(name string) (Size, error) {
	for _, s := range Sizes {
		if name == "" || name == s.String() {
			return s, nil
		}
	}
	return Size{}, &Fault{Code: "unknown-size"}
}

const (
	smallest = 0.35 // mm a module: below, cheap label printers and phones disagree. Common practice, no source.
	ruler    = 20.0 // mm
	pt       = 25.4 / 72
	monoEm   = 0.6 // advance of the monospaced font, in em
)

// Label writes one label as a PDF page of exactly its size. At is the date of the document.
func Label(w io.Writer, tag Tag, size Size, at time.Time) error {
	doc := document(size, tag.Name, at)
	doc.AddPage()
	if err := draw(doc, 0, 0, size, tag); err != nil {
		return err
	}
	return finish(doc, w)
}

// Sheet writes labels onto A4 pages, row by row, with thin lines to cut along. No tags give "no-labels".
func Sheet(w io.Writer, tags []Tag, size Size, at time.Time) error {
	if len(tags) == 0 {
		return &Fault{Code: "no-labels"}
	}
	page := Size{210, 297}
	doc := document(page, "", at)
	columns, rows := int((page.Width-8)/size.Width), int((page.Height-8)/size.Height)
	left, top := (page.Width-float64(columns)*size.Width)/2, (page.Height-float64(rows)*size.Height)/2
	for i, tag := range tags {
		cell := i % (columns * rows)
		if cell == 0 {
			doc.AddPage()
		}
		x, y := left+float64(cell%columns)*size.Width, top+float64(cell/columns)*size.Height
		doc.SetDrawColor(170, 170, 170)
		doc.SetLineWidth(0.1)
		doc.Rect(x, y, size.Width, size.Height, "D")
		if err := draw(doc, x, y, size, tag); err != nil {
			return err
		}
	}
	return finish(doc, w)
}

func document(size Size, title string, at time.Time) *fpdf.Fpdf {
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: size.Width, Ht: size.Height}})
	doc.SetMargins(0, 0, 0)
	doc.SetAutoPageBreak(false, 0)
	doc.SetTitle(printable(title), true)
	doc.SetCreationDate(at)
	doc.SetModificationDate(at)
	doc.AddUTF8FontFromBytes("text", "", goregular.TTF)
	doc.AddUTF8FontFromBytes("code", "", gomonobold.TTF)
	return doc
}

func finish(doc *fpdf.Fpdf, w io.Writer) error {
	if err := doc.Output(w); err != nil {
		return &Fault{Code: "not-drawn", Cause: err}
	}
	return nil
}

// draw puts a label with its corner at x, y.
func draw(doc *fpdf.Fpdf, x, y float64, size Size, tag Tag) error {
	bitmap, err := modules(tag.Link)
	if err != nil {
		return err
	}
	plan := layout(size)
	module := plan.side / float64(len(bitmap))
	if module < smallest {
		return &Fault{Code: "label-too-small"}
	}
	doc.SetFillColor(0, 0, 0)
	doc.SetTextColor(0, 0, 0)
	for _, r := range runs(bitmap) {
		outline(doc, x+plan.x+float64(r.x)*module, y+plan.y+float64(r.y)*module, float64(r.n)*module, module)
	}
	doc.DrawPath("F") // one fill for all: no hairlines between the rows
	plan.text(doc, x, y, tag)
	plan.scale(doc, x, y)
	return doc.Error()
}

func outline(doc *fpdf.Fpdf, x, y, w, h float64) {
	doc.MoveTo(x, y)
	doc.LineTo(x+w, y)
	doc.LineTo(x+w, y+h)
	doc.LineTo(x, y+h)
	doc.ClosePath()
}
