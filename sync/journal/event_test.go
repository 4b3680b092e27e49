package journal

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"
)

func TestHashIsSHA256(t *testing.T) {
	// FIPS 180-4, example "abc" of the standard's published test vectors; exact.
	if got := Hash(Line("abc")); got != "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" {
		t.Error(got)
	}
}

func TestLineIsWrittenInOrderAndUnescaped(t *testing.T) {
	l := must(OpenLog(&Memory{}, logA))
	d := draft(1)
	d.V, d.Base, d.Body = 2, "event-9", struct {
		Note string `json:"note"`
	}{"a<b>&µ"}
	got := string(must(l.Append([]Draft{d}))[0])
	want := `{"v":2,"id":"` + d.ID + `","log":"` + logA + `","seq":1,"prev":"","tick":1,"time":"2026-03-04T05:06:07.089Z",` +
		`"zone":"Europe/Paris","by":"person-1","about":{"site":"site-1","fixture":"fixture-1","of":"joint-1"},"kind":"look",` +
		`"base":"event-9","body":{"note":"a<b>&µ"}}`
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestParseReadsWhatWasWritten(t *testing.T) {
	line := written(t, logA, 2)[1]
	e, err := Parse(line)
	if err != nil {
		t.Fatal(err)
	}
	if e.V != 1 || e.ID != uid(1001) || e.Log != logA || e.Seq != 2 || e.Prev != Hash(written(t, logA, 1)[0]) ||
		e.Tick != 2 || e.Kind != "look" || e.About.Fixture != "fixture-1" || !bytes.HasPrefix(e.Body, []byte(`{"n":1`)) {
		t.Errorf("%+v", e)
	}
}

func TestParseRefusesAnIncompleteEnvelope(t *testing.T) {
	good := written(t, logA, 2)[1]
	upper := strings.ToUpper(logA)
	for field, values := range map[string][]string{
		"v":     {"", "0", "-1", `"1"`, "1.5", "null"},
		"id":    {"", `""`, `"x"`, `"` + logA[:35] + `"`, `"` + logA + `0"`, `"` + strings.ReplaceAll(logA, "-", "_") + `"`, "7"},
		"log":   {"", `""`, `"` + upper + `"`, "null"},
		"seq":   {"", "0", "-1", "1.5", "9007199254740992", "1"},
		"prev":  {"", `""`, `"00"`, `"` + strings.Repeat("G", 64) + `"`, `"` + strings.Repeat("A", 64) + `"`, "null"},
		"tick":  {"", "0", "9007199254740992"},
		"time":  {"", `""`, `"2026-03-04T05:06:07Z"`, `"2026-03-04T05:06:07.089+01:00"`, `"2026-13-04T05:06:07.089Z"`, `"2026-02-30T05:06:07.089Z"`, `"2026-03-04 05:06:07.089Z"`},
		"zone":  {"", `""`, `"a b"`, `"` + strings.Repeat("z", 129) + `"`},
		"by":    {"", `""`, `"a b"`, `"a\nb"`, "5"},
		"about": {"", "{}", `{"site":""}`, `{"site":"a b"}`, `{"site":"s","fixture":"a b"}`, `{"site":"s","of":"\u0007"}`, "[]", `"s"`},
		"kind":  {"", `""`, `"a b"`},
		"base":  {`"a b"`, "1"},
		"body":  {"", "null", "[]", "1", `"x"`},
	} {
		for _, value := range values {
			line := fixed(t, good, field, value)
			if e, err := Parse(line); CodeOf(err) != CodeBadLine {
				t.Errorf("%s = %s was taken: %v, %+v", field, value, err, e)
			}
		}
	}
	if _, err := Parse(fixed(t, good, "unknown", "1")); err != nil {
		t.Errorf("the unbroken line in this order is refused: %v", err)
	}
}

func TestParsePrevIsEmptyOnlyAtTheBeginning(t *testing.T) {
	first := written(t, logA, 1)[0]
	if _, err := Parse(fixed(t, first, "prev", `"`+strings.Repeat("a", 64)+`"`)); CodeOf(err) != CodeBadLine {
		t.Error("seq 1 with a prev was taken")
	}
}

func TestParseRefusesWhatIsNotOneLine(t *testing.T) {
	good := string(written(t, logA, 1)[0])
	for name, line := range map[string]string{
		"empty": "", "newline": strings.Replace(good, ",", ",\n", 1), "return": good + "\r", "cut": good[:len(good)-1],
		"two": good + good, "not UTF-8": strings.Replace(good, "look", "lo\xffk", 1), "array": "[" + good + "]", "null": "null",
		"log twice": strings.Replace(good, `"kind"`, `"log":"`+logB+`","kind"`, 1),
		"seq twice": strings.Replace(good, `"kind"`, `"SEQ":1,"prev":"","tick":9,"kind"`, 1),
	} {
		if _, err := Parse(Line(line)); CodeOf(err) != CodeBadLine {
			t.Errorf("%s was taken: %v", name, err)
		}
	}
}

func TestParseLetsUnknownFieldsThrough(t *testing.T) {
	good := string(written(t, logA, 1)[0])
	for _, line := range []string{
		strings.Replace(good, `{"v":1,`, `{"v":1,"later":{"deep":[1,2]},`, 1),
		strings.Replace(good, `"site":`, `"room":"r","site":`, 1),
		good[:len(good)-1] + `,"signature":"x"}`,
	} {
		if _, err := Parse(Line(line)); err != nil {
			t.Errorf("%v: %s", err, line)
		}
	}
}

func TestLongestLine(t *testing.T) {
	fill := func(n int) error {
		l := must(OpenLog(&Memory{}, logA))
		d := draft(1)
		d.Body = map[string]string{"x": ""}
		bare := len(must(l.Append([]Draft{d}))[0])
		d.Body = map[string]string{"x": strings.Repeat("y", n-bare)}
		_, err := must(OpenLog(&Memory{}, logA)).Append([]Draft{d})
		return err
	}
	if err := fill(MaxLine); err != nil {
		t.Errorf("a line of MaxLine: %v", err)
	}
	if err := fill(MaxLine + 1); CodeOf(err) != CodeLineTooLong {
		t.Errorf("a line of MaxLine + 1: %v", err)
	}
	good := string(written(t, logA, 1)[0])
	longer := strings.Replace(good, `"body":{`, `"body":{"more":"`+strings.Repeat("y", MaxLine)+`",`, 1)
	if _, err := Parse(Line(longer)); CodeOf(err) != CodeLineTooLong {
		t.Errorf("somebody else's line of %d: %v", len(longer), err)
	}
}

func TestGlanceAgreesWithParse(t *testing.T) {
	for _, line := range written(t, logA, 3) {
		g, ok := glance(line)
		e := must(Parse(line))
		if !ok || !g.agrees(&e) {
			t.Errorf("glance of %s: %v %+v", line, ok, g)
		}
	}
	shuffled := fixed(t, written(t, logA, 1)[0], "a", "1")
	if _, ok := glance(shuffled); ok {
		t.Error("glance took another order")
	}
	if g, ok := glanceOrParse(shuffled); !ok || string(g.log) != logA || g.seq != 1 {
		t.Error("the slow way did not read another order")
	}
	if _, ok := glance(Line(`{"v":01,"id":"a","log":"b","seq":1,"prev":"","tick":1,"`)); ok {
		t.Error("glance took a number that is not JSON")
	}
}

func TestReceipt(t *testing.T) {
	for _, r := range []Receipt{{N: 1, At: "2026-03-04T05:06:07.089Z", From: "d"}, {N: MaxNumber, At: "2026-03-04T05:06:07.089Z", Offset: -86400000, From: "d"},
		{N: 7, At: "2026-03-04T05:06:07.089Z", Offset: 1, From: "d", Seal: strings.Repeat("0f", 32)}} {
		buf := AppendReceipt(nil, r)
		fast, ok := glanceReceipt(buf)
		slow, err := ParseReceipt(append(bytes.TrimSuffix(buf, []byte("}")), `,"later":1}`...))
		if !ok || fast != r || err != nil || slow != r {
			t.Errorf("%+v: %+v %v, %+v %v", r, fast, ok, slow, err)
		}
	}
	for _, bad := range []string{"", "{}", `{"n":0,"at":"2026-03-04T05:06:07.089Z","offset":0,"from":"d"}`,
		`{"n":01,"at":"2026-03-04T05:06:07.089Z","offset":0,"from":"d"}`, `{"n":1,"at":"today","offset":0,"from":"d"}`,
		`{"n":1,"at":"2026-03-04T05:06:07.089Z","offset":0,"from":""}`, `{"n":1,"at":"2026-03-04T05:06:07.089Z","offset":9223372036854775808,"from":"d"}`,
		`{"n":1,"at":"2026-03-04T05:06:07.089Z","offset":0,"from":"d"}x`, `{"n":1,"at":"2026-03-04T05:06:07.089Z","offset":18446744073709551615,"from":"d"}`,
		`{"n":1,"at":"2026-03-04T05:06:07.089Z","offset":0,"from":"d","seal":"xy"}`, `{"n":1,"at":"2026-03-04T05:06:07.089Z","offset":0,"from":"d","seal":"AB"}`,
		`{"n":1,"at":"2026-03-04T05:06:07.089Z","offset":0,"from":"d","seal":"` + strings.Repeat("0", 65) + `"}`} {
		if r, err := ParseReceipt([]byte(bad)); CodeOf(err) != CodeBadLine {
			t.Errorf("%s was taken: %+v", bad, r)
		}
	}
}

func TestReceiptFormsOfTheSeal(t *testing.T) {
	bare := `{"n":1,"at":"2026-03-04T05:06:07.089Z","offset":-3,"from":"d"`
	for form, seal := range map[string]string{bare + "}": "", bare + `,"seal":""}`: "", bare + `,"seal":"0f"}`: "0f",
		`{"seal":"0f",` + bare[1:] + "}": "0f", bare + `,"seal":"0f","later":1}`: "0f"} {
		if r, err := ParseReceipt([]byte(form)); err != nil || r.Seal != seal || r.Offset != -3 {
			t.Errorf("%s: %+v %v", form, r, err)
		}
	}
	if got := string(AppendReceipt(nil, must(ParseReceipt([]byte(bare+"}"))))); got != bare+"}" {
		t.Errorf("a receipt without a seal became %s", got)
	}
	if !isReceipt([]byte(bare+`,"seal":"0f"}`)) || !isReceipt([]byte(bare+`,"seal":"0f","later":1}`)) {
		t.Error("a sealed receipt in a feed's file is not known")
	}
}

func TestFault(t *testing.T) {
	inner := errors.New("disk")
	err := error(&Fault{Code: CodeStorageFull, Cause: inner})
	if err.Error() != "storage-full: disk" || !errors.Is(err, inner) || CodeOf(errors.Join(err)) != CodeStorageFull {
		t.Error(err)
	}
	if (&Fault{Code: CodeForked}).Error() != "forked" || CodeOf(inner) != "" || CodeOf(nil) != "" {
		t.Error("codes without a cause, or without a Fault")
	}
	if wrap(err, CodeWriteFailed) != err || CodeOf(wrap(inner, CodeWriteFailed)) != CodeWriteFailed {
		t.Error("wrap")
	}
}

// The standard library reads times by other code.
func TestIsTimeAgreesWithTheLibrary(t *testing.T) {
	agree := func(s string) {
		if _, err := time.Parse(TimeLayout, s); (err == nil) != isTime(s) {
			t.Errorf("%q: %v, isTime %v", s, err, isTime(s))
		}
	}
	day := time.Date(1896, 1, 1, 23, 59, 59, 999e6, time.UTC)
	for range 400 * 366 {
		if s := day.Format(TimeLayout); !isTime(s) {
			t.Fatal(s)
		}
		day = day.AddDate(0, 0, 1)
	}
	for _, year := range []string{"1900", "2000", "2023", "2024"} {
		for month := range 14 {
			for d := range 33 {
				agree(year + "-" + digits(month) + "-" + digits(d) + "T00:00:00.000Z")
			}
		}
	}
	for _, clock := range []string{"24:00:00.000Z", "23:60:00.000Z", "23:59:60.000Z", "23:59:59,000Z", "23:59:59.00aZ", "23:59:59.0000", "2a:59:59.000Z"} {
		if isTime("2026-03-04T" + clock) {
			t.Error(clock)
		}
	}
}

func digits(n int) string { return string([]byte{byte('0' + n/10), byte('0' + n%10)}) }
