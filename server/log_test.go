package main

import (
	"bytes"
	"regexp"
	"strings"
	"testing"
	"time"
)

// One thing is one line, whatever stands in it, with a moment that names its zone.
func TestLogLinesCannotBeForged(t *testing.T) {
	var out bytes.Buffer
	log := newLog(&out, false)
	log.Debug("not said unless --verbose")
	log.Info("refused", "route", "/x\ntime=2026-01-01T00:00:00Z level=INFO msg=forged", "esc", "\x1b[2J\r\u2028", "code", `a" person=somebody`)
	text := out.String()
	if strings.Count(text, "\n") != 1 || strings.ContainsAny(text, "\x1b\r\u2028") || strings.Contains(text, "not said") {
		t.Errorf("%q", text)
	}
	if strings.Contains(regexp.MustCompile(`"(\\.|[^"\\])*"`).ReplaceAllString(text, "…"), "person=somebody") {
		t.Errorf("a value reaches beyond its quotes: %s", text)
	}
	moment := regexp.MustCompile(`^time=(\S+) level=INFO `).FindStringSubmatch(text)
	if moment == nil {
		t.Fatal(text)
	}
	if at, err := time.Parse("2006-01-02T15:04:05.000Z07:00", moment[1]); err != nil || time.Since(at).Abs() > time.Minute {
		t.Errorf("%s: %v", moment[1], err)
	}
	out.Reset()
	if newLog(&out, true).Debug("said"); !strings.Contains(out.String(), "said") {
		t.Errorf("%q", &out)
	}
}
