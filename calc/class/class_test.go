package class_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/class"
	"jointwalk/calc/gas"
	"jointwalk/calc/laws"
	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

const std0 = "std cm3/min@0C"

func in(t testing.TB, q quantity.MolarFlow) float64 {
	t.Helper()
	v, err := quantity.In(q, std0)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestLaws(t *testing.T) {
	laws.Hold(t, laws.Kind[class.Seen]{
		Any: func(t *rapid.T) class.Seen {
			return class.Seen{Class: rapid.SampledFrom(class.Spans()).Draw(t, "class").Class, Ambient: laws.Ambient(t)}
		},
		At: func(s class.Seen) gas.Ambient { return s.Ambient },
	})
}

// The interval is the class's span: what is 95 % of it lies between its ends.
func TestIntervalIsTheSpan(t *testing.T) {
	for _, s := range class.Spans() {
		e, err := class.Seen{Class: s.Class, Ambient: gas.Usual()}.Estimate()
		if err != nil {
			t.Fatal(err)
		}
		for what, pair := range map[string][2]float64{
			"low": {in(t, e.Molar.Lo), s.Low}, "top": {in(t, e.Molar.Hi), s.Top},
			"median": {in(t, e.Molar.Median), math.Sqrt(s.Low * s.Top)},
		} {
			if math.Abs(pair[0]/pair[1]-1) > 0.003 {
				t.Errorf("%s, %s: %v, want %v", s.Class, what, pair[0], pair[1])
			}
		}
		if e.AtLeast != s.Open {
			t.Errorf("%s is at least: %v", s.Class, e.AtLeast)
		}
	}
}

// The worked station says what a film shows at a leak of so many std cm³/min (derived, no outside evidence): each stands
// within the class of that name.
func TestWorkedStation(t *testing.T) {
	for c, rates := range map[class.Class][]float64{
		class.FrothCreeping:   {0.001, 0.01},
		class.String:          {0.1},
		class.GrowingBursting: {1, 10},
		class.Heard:           {10},
		class.BlownOff:        {100},
	} {
		e, err := class.Seen{Class: c, Ambient: gas.Usual()}.Estimate()
		if err != nil {
			t.Fatal(err)
		}
		for _, rate := range rates {
			if rate < in(t, e.Molar.Lo) || rate > in(t, e.Molar.Hi) {
				t.Errorf("%v std cm³/min is outside of %s: %v to %v", rate, c, in(t, e.Molar.Lo), in(t, e.Molar.Hi))
			}
		}
	}
}

// Each class begins and ends above the one before it, and they leave no gap.
func TestClassesClimb(t *testing.T) {
	spans := class.Spans()
	for i := 1; i < len(spans); i++ {
		a, b := spans[i-1], spans[i]
		if b.Low <= a.Low || b.Top <= a.Top || b.Low > a.Top {
			t.Errorf("%+v and %+v", a, b)
		}
	}
}

func TestFaults(t *testing.T) {
	var fault *quantity.Fault
	if _, err := (class.Seen{Class: "wet", Ambient: gas.Usual()}).Estimate(); !errors.As(err, &fault) || fault.Code != class.CodeUnknown {
		t.Error(err)
	}
	if _, err := (class.Seen{Class: class.Heard}).Estimate(); !errors.As(err, &fault) || fault.Field != "ambient-pressure" {
		t.Error(err)
	}
}

func ExampleSeen_Estimate() {
	e, err := class.Seen{Class: class.String, Ambient: gas.Usual()}.Estimate()
	if err != nil {
		panic(err)
	}
	lo, _ := quantity.Print(e.Molar.Lo, std0, 1)
	hi, _ := quantity.Print(e.Molar.Hi, std0, 1)
	fmt.Println("from", lo.Number, "to", hi.Number, std0)
	// Output: from 0.01 to 1 std cm3/min@0C
}
