package paper

import (
	"strings"
	"unicode"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/norm"
)

// plan says where the parts of a label stand, in millimetres from its corner.
type plan struct {
	x, y, side   float64 // the QR code with its quiet zone
	left, width  float64 // the column of text
	top, foot    float64 // of that column
	lines        int     // of the code
	small, large float64 // type sizes of name and code, in points
}

// layout puts the code to the left of the text on a wide label, above it on a square one.
func layout(s Size) plan {
	const edge = 1.5
	p := plan{foot: s.Height - edge, small: 7 * min(s.Width, s.Height*1.4) / 42}
	if s.Width >= 1.4*s.Height {
		p.side = min(s.Height-2*edge, s.Width-2-ruler-edge)
		p.x, p.y = edge, (s.Height-p.side)/2
		p.left, p.width, p.top, p.lines = edge+p.side, s.Width-2-edge-p.side, 2*edge, 2
		p.large = p.width / (7 * monoEm * pt)
		return p
	}
	p.width, p.left, p.lines = s.Width-2*edge, edge, 1
	p.large = p.width / (13 * monoEm * pt)
	p.side = s.Height - edge - (p.large+2.6*p.small)*pt - 6
	p.x, p.y = (s.Width-p.side)/2, edge/2
	p.top = p.y + p.side - 0.5
	return p
}

// text writes the code, then as much of the name as fits above the ruler.
func (p plan) text(doc *fpdf.Fpdf, x, y float64, tag Tag) {
	doc.SetFont("code", "", p.large)
	base := y + p.top
	for _, line := range p.codeLines(tag.Code) {
		base += p.large * pt
		doc.Text(x+p.left, base, line)
	}
	doc.SetFont("text", "", p.small)
	leading := 1.2 * p.small * pt
	room := int((y + p.foot - 4.6 - base) / leading)
	base += 0.1 * leading
	for _, line := range wrap(printable(tag.Name), p.width, room, doc.GetStringWidth) {
		base += leading
		doc.Text(x+p.left, base, line)
	}
}

func (p plan) codeLines(code string) []string {
	grouped := Grouped(code)
	if head, tail, ok := strings.Cut(grouped, "-"); ok && p.lines == 2 {
		return []string{head, tail}
	}
	return []string{grouped}
}

// scale draws the line of 20 mm that shows whether the printer kept the scale.
func (p plan) scale(doc *fpdf.Fpdf, x, y float64) {
	left, foot := x+p.left, y+p.foot
	doc.SetDrawColor(0, 0, 0)
	doc.SetLineWidth(0.2)
	doc.Line(left, foot-0.5, left+ruler, foot-0.5)
	for _, at := range []float64{0, ruler / 2, ruler} {
		doc.Line(left+at, foot-2, left+at, foot-0.5)
	}
	doc.SetFont("text", "", 6)
	doc.Text(left+1, foot-1.2, "20 mm")
}

// wrap breaks text into at most room lines of a width, between words where it can, and ends what does
// not fit with an ellipsis.
func wrap(text string, width float64, room int, measure func(string) float64) []string {
	var lines []string
	rest := strings.TrimSpace(text)
	for rest != "" && len(lines) < room {
		line := fitting(rest, width, measure)
		if len(line) < len(rest) && len(lines) == room-1 {
			line = fitting(rest, width-measure("…"), measure)
			return append(lines, strings.TrimSpace(line)+"…")
		}
		lines = append(lines, strings.TrimSpace(line))
		rest = strings.TrimSpace(rest[len(line):])
	}
	return lines
}

// fitting is the longest beginning of text within a width, cut after a space if there is one, and never
// empty.
func fitting(text string, width float64, measure func(string) float64) string {
	end, space := 0, 0
	for i, r := range text {
		next := i + len(string(r))
		if measure(strings.TrimRight(text[:next], " ")) > width && end > 0 {
			if space > 0 {
				return text[:space]
			}
			return text[:end]
		}
		end = next
		if r == ' ' {
			space = next
		}
	}
	return text
}

var glyphs = func() *sfnt.Font {
	f, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		panic("paper: the built-in font cannot be read: " + err.Error())
	}
	return f
}()

// printable composes accents, makes one space of each gap, and puts a box for what the font lacks.
func printable(text string) string {
	var buf sfnt.Buffer
	text = norm.NFC.String(strings.Join(strings.Fields(text), " "))
	return strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Mn, r) {
			return -1
		}
		if i, err := glyphs.GlyphIndex(&buf, r); err != nil || i == 0 || r > 0xffff {
			return '□'
		}
		return r
	}, text)
}
