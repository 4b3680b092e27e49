package paper

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
)

const setup = "http://localhost:8080/setup#7K3MQ9XWTA"

// Reading the half blocks back gives the symbol, with and without colours.
func TestTerminalIsTheSymbol(t *testing.T) {
	want, err := modules(setup)
	if err != nil {
		t.Fatal(err)
	}
	for _, colours := range []bool{true, false} {
		text, err := Terminal(setup, colours)
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
		if len(lines) != (len(want)+1)/2 {
			t.Fatalf("%d lines for %d modules", len(lines), len(want))
		}
		for i, line := range lines {
			plain := strings.TrimSuffix(strings.TrimPrefix(line, "\x1b[30;47m"), "\x1b[0m")
			if (plain != line) != colours {
				t.Fatalf("line %d: colours %v", i, colours)
			}
			for x, r := range []rune(plain) {
				for k, inked := range []bool{r == '█' || r == '▀', r == '█' || r == '▄'} {
					if y := 2*i + k; y < len(want) && (inked == colours) != want[y][x] {
						t.Fatalf("colours %v: module %d,%d", colours, x, y)
					}
				}
			}
		}
	}
}

// Reading the path back gives the symbol.
func TestSVGIsTheSymbol(t *testing.T) {
	want, err := modules(setup)
	if err != nil {
		t.Fatal(err)
	}
	svg, err := SVG(setup)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(svg, `viewBox="0 0 `+strconv.Itoa(len(want))+" ") || strings.Contains(svg, "style") {
		t.Errorf("%.120s", svg)
	}
	got := map[[2]int]bool{}
	for _, m := range regexp.MustCompile(`M(\d+) (\d+)h(\d+)v1h-(\d+)z`).FindAllStringSubmatch(svg, -1) {
		var n [4]int
		for i := range n {
			n[i], _ = strconv.Atoi(m[i+1])
		}
		if n[2] != n[3] {
			t.Fatalf("crooked run %v", m)
		}
		for x := range n[2] {
			got[[2]int{n[0] + x, n[1]}] = true
		}
	}
	for y, row := range want {
		for x, dark := range row {
			if got[[2]int{x, y}] != dark {
				t.Fatalf("module %d,%d", x, y)
			}
		}
	}
}

func TestLinkIsAlphanumeric(t *testing.T) {
	link := Link("https://leaks.plant.test:8443/", "7K3MQ9XWTAC")
	if link != "HTTPS://LEAKS.PLANT.TEST:8443/T/7K3MQ9XWTAC" {
		t.Error(link)
	}
	if strings.Trim(link, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:") != "" {
		t.Errorf("%q leaves the alphanumeric mode", link)
	}
	upper, _ := modules(link)
	lower, _ := modules(strings.ToLower(link))
	if len(upper) >= len(lower) {
		t.Errorf("upper case should give the smaller symbol: %d, %d", len(upper), len(lower))
	}
}

func TestGrouped(t *testing.T) {
	if got := Grouped("7K3MQ9XWTAC"); got != "7K3MQ-9XWTA-C" {
		t.Error(got)
	}
	if got := Grouped("7K3"); got != "7K3" {
		t.Error(got)
	}
}

func TestTooMuchText(t *testing.T) {
	if _, err := Terminal(strings.Repeat("x", 9000), true); err == nil {
		t.Error("terminal took it")
	}
	if _, err := SVG(strings.Repeat("x", 9000)); err == nil {
		t.Error("svg took it")
	}
}
