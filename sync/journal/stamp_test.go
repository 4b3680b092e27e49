package journal

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

// Checked against the standard library's Format and Parse with TimeLayout.
func TestStampsAreThoseOfTheStandardLibrary(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		zone := time.FixedZone("", rapid.IntRange(-14*3600, 14*3600).Draw(rt, "zone"))
		at := time.UnixMilli(rapid.Int64Range(-62135596800000, 253402300799999).Draw(rt, "ms")).In(zone)
		want := at.UTC().Format(TimeLayout)
		if got := Stamp(at); got != want {
			rt.Fatalf("%s, want %s", got, want)
		}
		if back, ok := Moment(want); !ok || !back.Equal(at) {
			rt.Fatalf("%s read as %v", want, back)
		}
	})
}

func TestOnlyStampsAreMoments(t *testing.T) {
	for _, s := range []string{"", "2026-03-04", "2026-02-30T00:00:00.000Z", "2026-03-04T05:06:07Z", "2026-03-04T05:06:07.089+01:00", "2026-03-04T24:00:00.000Z"} {
		if at, ok := Moment(s); ok {
			t.Errorf("%q read as %v", s, at)
		}
	}
}
