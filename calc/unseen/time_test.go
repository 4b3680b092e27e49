package unseen

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

func group(n int, path *Path) []Look {
	looks := make([]Look, n)
	for i := range looks {
		looks[i] = watched(0, path)
	}
	return looks
}

func std(t testing.TB, v float64) quantity.MolarFlow {
	t.Helper()
	q, err := quantity.From[quantity.MolarFlow](v, "std cm3/min@0C")
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// The worked station: 14 joints of 30 s each bound the sum at 0.0014 std cm³/min (derived, two printed digits); so that sum
// asks for 30 s, however many joints there are.
func TestTimeOfWorkedStation(t *testing.T) {
	for _, n := range []int{1, 14} {
		need, err := TimeFor(group(n, nil), std(t, 0.00144))
		if err != nil || need.Cannot != "" || math.Abs(float64(need.Time)-30) > 0.5 {
			t.Errorf("%d joints need %+v, %v; want 30 s", n, need, err)
		}
	}
}

// The time that is needed is enough, and a little less is not.
func TestTimeIsJustEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		path := WetPath(quantity.Gauge(rapid.Float64Range(10e3, 1e6).Draw(t, "pressure")))
		if rapid.Bool().Draw(t, "wetted before") {
			path = path.Filled()
		}
		looks := group(rapid.IntRange(1, 20).Draw(t, "joints"), path)
		sum := quantity.MolarFlow(math.Exp(rapid.Float64Range(math.Log(1e-11), math.Log(1e-7)).Draw(t, "ln sum")))
		need, err := TimeFor(looks, sum)
		if err != nil {
			t.Fatal(err)
		}
		at := func(time quantity.Duration) quantity.MolarFlow {
			b, err := looksOf(nil, looks, time)
			if err != nil {
				t.Fatal(err)
			}
			return b.Upper
		}
		switch {
		case need.Cannot == CannotPlugged && at(forever) <= sum, need.Cannot == CannotTooLong && (at(LongestLook) <= sum || at(forever) > sum):
			t.Fatalf("%s, and it can", need.Cannot)
		case need.Cannot == "" && at(need.Time) > sum:
			t.Fatalf("%v s are not enough", need.Time)
		case need.Cannot == "" && need.Time > ShortestLook && at(need.Time*0.999) <= sum:
			t.Fatalf("less than %v s are enough", need.Time)
		}
	})
}

func TestTimeCannot(t *testing.T) {
	if need, err := TimeFor(group(20, WetPath(14e3)), std(t, 0.005)); err != nil || need.Cannot != CannotPlugged {
		t.Errorf("%+v, %v: 20 plugged paths of 0.001 at 14 kPa may leak more than 0.005 (worked station)", need, err)
	}
	if need, err := TimeFor(group(1, WetPath(200e3)), std(t, 1e-5)); err != nil || need.Cannot != CannotTooLong {
		t.Errorf("%+v, %v: an hour and more for that", need, err)
	}
	hidden := group(2, nil)
	hidden[1].Around = false
	if need, err := TimeFor(hidden, std(t, 1)); err != nil || need.Cannot != CannotBackHidden {
		t.Errorf("%+v, %v: the back was not seen", need, err)
	}
	var fault *quantity.Fault
	if _, err := TimeFor(group(1, nil), 0); !errors.As(err, &fault) || fault.Field != "sum" {
		t.Error(err)
	}
}

// A path wetted before the pressure came has to be blown free: its floor is higher, falls as time goes on, and never below
// that of a wet mouth.
func TestFilledPath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mouth := WetPath(quantity.Gauge(rapid.Float64Range(5e3, 2e6).Draw(t, "pressure")))
		filled := mouth.Filled()
		time := quantity.Duration(rapid.Float64Range(1, 600).Draw(t, "time"))
		d, later, least := filled.Diameter(time), filled.Diameter(2*time), mouth.Diameter(time)
		if !(d > later && later > least) {
			t.Fatalf("%v, later %v, at last %v", d, later, least)
		}
		if want := 4 * mouth.Tension / float64(mouth.Pressure); math.Abs(float64(least)/want-1) > 1e-12 {
			t.Fatalf("a wet mouth holds back %v, want 4σ/p = %v", least, want)
		}
		// The formula, stepped: how long the column of liquid takes to be driven out of a path of that diameter.
		net := float64(filled.Pressure) - 4*filled.Tension/float64(d)
		took, steps := 0.0, 20_000
		for i := range steps {
			column := float64(filled.Length) * (float64(i) + 0.5) / float64(steps)
			speed := float64(d*d) * net / (32 * filled.Liquid * column)
			took += float64(filled.Length) / float64(steps) / speed
		}
		if math.Abs(took/float64(time)-1) > 1e-6 {
			t.Fatalf("blown free in %v s, want %v", took, time)
		}
	})
}

// Better light and a nearer eye never make the smallest bubble larger.
func TestSmallestSeen(t *testing.T) {
	accesses := []Access{Magnified, Near, Far}
	for i, access := range accesses {
		if SmallestSeen(Bright, access) >= SmallestSeen(Dim, access) {
			t.Errorf("%s: light does not help", access)
		}
		for _, light := range []Light{Bright, Dim} {
			if i > 0 && SmallestSeen(light, access) <= SmallestSeen(light, accesses[i-1]) {
				t.Errorf("%s, %s: coming nearer does not help", light, access)
			}
		}
	}
	if SmallestSeen(Bright, Near) != SmallestClose || SmallestSeen(Dim, Far) != SmallestPartly {
		t.Error("the two sights are two of these")
	}
	if SmallestSeen("moon", Near) != 0 || SmallestSeen(Dim, "") != 0 {
		t.Error("what is not listed has a smallest bubble")
	}
	look := watched(30, nil)
	look.Smallest = SmallestSeen(Bright, Magnified)
	if b, err := look.Bound(); err != nil || b.Smallest != look.Smallest {
		t.Errorf("%+v, %v", b, err)
	}
}

func ExampleTimeFor() {
	limit, _ := quantity.From[quantity.MolarFlow](0.2, "std cm3/min@0C")
	need, err := TimeFor(group(14, WetPath(200e3)), limit/100)
	if err != nil {
		panic(err)
	}
	fmt.Printf("%.0f s each\n", need.Time)
	// Output: 22 s each
}

// What was looked at before counts with its own time: looks as long as the rest change nothing of the time that the rest needs
// by its own clock, one that was too short is told from what bubbles cannot show.
func TestTimeAfterEarlierLooks(t *testing.T) {
	sum := std(t, 0.00144) // 30 s by the clock alone, as above
	if need, err := TimeAfter([]Look{watched(60, nil)}, group(3, nil), sum); err != nil || math.Abs(float64(need.Time)-30) > 0.5 {
		t.Errorf("%+v, %v; want 30 s", need, err)
	}
	if need, err := TimeAfter([]Look{watched(10, nil)}, group(3, nil), sum); err != nil || need.Cannot != CannotEarlier {
		t.Errorf("%+v, %v: the first was looked at for 10 s", need, err)
	}
	plugged := watched(10, WetPath(14e3))
	if need, err := TimeAfter([]Look{plugged}, group(20, WetPath(14e3)), std(t, 0.005)); err != nil || need.Cannot != CannotPlugged {
		t.Errorf("%+v, %v: no clock beats 21 plugged paths", need, err)
	}
}
