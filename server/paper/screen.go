package paper

import (
	"fmt"
	"strings"
)

// Terminal draws a text's QR code in half blocks, two modules a character. With colours it sets black on
// white by itself; without (output that is no terminal) it draws the light modules, for dark terminals.
func Terminal(text string, colours bool) (string, error) {
	bitmap, err := modules(text)
	if err != nil {
		return "", err
	}
	var out strings.Builder
	for y := 0; y < len(bitmap); y += 2 {
		if colours {
			out.WriteString("\x1b[30;47m")
		}
		for x := range bitmap[y] {
			low := y+1 < len(bitmap) && bitmap[y+1][x]
			out.WriteString(half(bitmap[y][x] == colours, low == colours))
		}
		if colours {
			out.WriteString("\x1b[0m")
		}
		out.WriteByte('\n')
	}
	return out.String(), nil
}

// half is the character whose upper and lower half are inked.
func half(up, low bool) string {
	switch {
	case up && low:
		return "█"
	case up:
		return "▀"
	case low:
		return "▄"
	}
	return " "
}

// SVG draws a text's QR code as an image for a page, one unit a module, black on white.
func SVG(text string) (string, error) {
	bitmap, err := modules(text)
	if err != nil {
		return "", err
	}
	n := len(bitmap)
	var out strings.Builder
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" shape-rendering="crispEdges"><path fill="#fff" d="M0 0h%dv%dH0z"/><path d="`, n, n, n, n)
	for _, r := range runs(bitmap) {
		fmt.Fprintf(&out, "M%d %dh%dv1h-%dz", r.x, r.y, r.n, r.n)
	}
	out.WriteString(`"/></svg>`)
	return out.String(), nil
}
