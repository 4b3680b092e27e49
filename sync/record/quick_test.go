package record

import (
	"encoding/json"
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

// agrees holds that a body read by bytes is what encoding/json reads; it gives
// whether it was read so.
func agrees(t interface{ Errorf(string, ...any) }, body []byte) bool {
	var quick, usual Look
	if !quickLook(body, &quick) {
		return false
	}
	if err := json.Unmarshal(body, &usual); err != nil || !reflect.DeepEqual(quick, usual) {
		t.Errorf("%s: %+v, encoding/json says %+v, %v", body, quick, usual, err)
	}
	return true
}

func TestPlainLooksAreReadByBytes(t *testing.T) {
	for _, body := range []string{
		`{"round":"r1","joint":"j1","result":"none","seconds":60,"stayed":true,"back":true}`,
		`{"joint":"j1","back":false,"round":"r1","stayed":true,"result":"partly","seconds":0.25}`,
		`{"round":"r1","joint":"j1","result":"not-reached","why":"hidden","stayed":false,"back":false}`,
		`{"round":"r1","joint":"j1","result":"none","seconds":0,"stayed":true,"back":true,"second":"l1","wiped":"","spot":"2","vented":"stopped"}`,
		`{"round":"r1","round":"r2","result":"later-result"}`,
	} {
		if !agrees(t, []byte(body)) {
			t.Errorf("%s is read the slow way", body)
		}
	}
}

// What is not plain, or no JSON at all, is left to encoding/json.
func TestOtherLooksGoTheUsualWay(t *testing.T) {
	for _, body := range []string{
		``, `{`, `{}`, `{"round"`, `{"round":`, `{"round":"`, `{"round":"r1"`, `{"round":"r1",}`, `{"round":"r1"}}`, `{"round":"r1"} `,
		`{"note":"n"}`, `{"Round":"r1"}`, `{"round":"ñ"}`, `{"round":"a\"b"}`, `{"round":null}`, `{"round":7}`, `{"stayed":"true"}`, `{"stayed":1}`,
		`{"seconds":01}`, `{"seconds":.5}`, `{"seconds":5.}`, `{"seconds":-1}`, `{"seconds":1e3}`, `{"seconds":1.2.3}`, `{"seconds":}`, `{"seconds":1,"x":2}`,
		`{ "round":"r1"}`, `{"round" :"r1"}`, `{"observation":{}}`, `["round"]`, `{"stayed":true`, `{"round":"r1"`, "{\"round\":\"a\tb\"}",
	} {
		var look Look
		if quickLook([]byte(body), &look) {
			t.Errorf("%s is read as %+v", body, look)
		}
	}
}

func TestEveryLookReadsTheSame(t *testing.T) {
	quick := 0
	rapid.Check(t, func(rt *rapid.T) {
		text := rapid.StringMatching(`[a-z0-9 -]{1,8}`)
		if rapid.IntRange(0, 3).Draw(rt, "odd") == 0 {
			text = rapid.String()
		}
		look := Look{
			Round: text.Draw(rt, "round"), Joint: text.Draw(rt, "joint"), Result: Result(text.Draw(rt, "result")),
			Seconds: rapid.OneOf(rapid.SampledFrom([]float64{0, 1, 60, 12.5, 0.25}), rapid.Float64()).Draw(rt, "seconds"), Stayed: rapid.Bool().Draw(rt, "stayed"), Back: rapid.Bool().Draw(rt, "back"),
			Why: text.Draw(rt, "why"), Wiped: text.Draw(rt, "wiped"), Second: text.Draw(rt, "second"), Wetted: text.Draw(rt, "wetted"),
			Spot: text.Draw(rt, "spot"), Vented: text.Draw(rt, "vented"), Rewets: rapid.IntRange(0, 2).Draw(rt, "rewets"),
		}
		raw, err := json.Marshal(look)
		if err != nil {
			rt.Fatal(err)
		}
		if agrees(rt, raw) {
			quick++
		}
		at := rapid.IntRange(0, len(raw)-1).Draw(rt, "at")
		raw[at] = rapid.SampledFrom([]byte(`{}":,.0a\ t`)).Draw(rt, "byte")
		agrees(rt, raw)
	})
	if quick == 0 {
		t.Error("no look was read by bytes")
	}
}

func FuzzQuickLook(f *testing.F) {
	f.Add([]byte(`{"round":"r1","joint":"j1","result":"none","seconds":60,"stayed":true,"back":true}`))
	f.Fuzz(func(t *testing.T, body []byte) { agrees(t, body) })
}
