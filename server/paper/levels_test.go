package paper

import (
	"encoding/json"
	"os"
	"slices"
	"testing"

	"github.com/skip2/go-qrcode"
)

// symbol is a label's code at both levels in question, a line of # and spaces a row, without its quiet zone.
type symbol struct {
	Text string   `json:"text"`
	Q    []string `json:"Q"`
	H    []string `json:"H"`
}

const levels = "../../testdata/labels/levels.json"

// TestSymbolsForTheTable: the app's reader is tried on damaged labels (pwa/src/scan/damaged), and these are the labels. UPDATE=1 writes
// them.
func TestSymbolsForTheTable(t *testing.T) {
	var want []symbol
	for _, link := range []string{
		Link("http://192.168.10.20:8080", "7K3MQ9XWTAC"), Link("https://leaks.plant.example:8443", "0123456789R"),
		Link("http://jointwalk.local:8080", "4K7Q2M9XTCA"), Link("https://leaktest.north.plant.example", "ZZ00ZZ00ZZ0"),
	} {
		want = append(want, symbol{link, rows(t, qrcode.High, link), rows(t, qrcode.Highest, link)})
	}
	raw, err := json.MarshalIndent(want, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(levels, append(raw, '\n'), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(levels)
	if err != nil {
		t.Fatal(err)
	}
	if string(kept) != string(raw)+"\n" {
		t.Errorf("%s is not what is printed: UPDATE=1 go test ./server/paper", levels)
	}
	for _, s := range want {
		if printed, err := modules(s.Text); err != nil || !slices.Equal(s.H, lines(printed)) && !slices.Equal(s.Q, lines(printed)) {
			t.Errorf("%s is printed at neither level: %v", s.Text, err)
		}
	}
}

func rows(t *testing.T, level qrcode.RecoveryLevel, text string) []string {
	t.Helper()
	bitmap, err := modulesAt(level, text)
	if err != nil {
		t.Fatal(err)
	}
	return lines(bitmap)
}

func lines(bitmap [][]bool) (out []string) {
	for _, row := range bitmap[quiet : len(bitmap)-quiet] {
		line := ""
		for _, dark := range row[quiet : len(row)-quiet] {
			line += map[bool]string{true: "#", false: " "}[dark]
		}
		out = append(out, line)
	}
	return out
}
