package decay_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"jointwalk/calc/decay"
	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

func sealedMaster(u quantity.Drop) []decay.Settling {
	return []decay.Settling{{Stabilised: 10, Drop: 240, U: u}, {Stabilised: 20, Drop: 222, U: u}, {Stabilised: 40, Drop: 212, U: u}}
}

// The worked station (derived by hand, within 2 %): 240, 222, 212 Pa after 10, 20, 40 s: a tail of τ ≈ 11 s over 210 Pa, which
// is 2.29 std cm³/min in its 200 cm³.
func TestTailOfWorkedStation(t *testing.T) {
	tail, err := decay.TailOf(sealedMaster(0))
	if err != nil {
		t.Fatal(err)
	}
	within(t, "settled", float64(tail.Settled), 210, 0.02)
	within(t, "τ", float64(tail.Tau), 11, 0.02)
	n, err := station().Rate(tail.Settled)
	if err != nil {
		t.Fatal(err)
	}
	v, _ := quantity.In(n, "std cm3/min@0C")
	within(t, "as a leak", v, 2.29, 0.02)
	if tail.SettledU >= 0 || tail.TauU >= 0 {
		t.Errorf("three readings tell no uncertainty, and it is %v, %v", tail.SettledU, tail.TauU)
	}
	if tail, err = decay.TailOf(sealedMaster(1)); err != nil || !(tail.SettledU > 1 && tail.SettledU < 10) {
		t.Errorf("with 1 Pa a reading: %+v, %v", tail, err)
	}
}

// Stabilised for as long as Until says, a reading is off by just that much.
func TestUntil(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tail := decay.Tail{Settled: 200, Excess: quantity.Drop(rapid.Float64Range(1, 1000).Draw(t, "excess")), Tau: quantity.Duration(rapid.Float64Range(1, 100).Draw(t, "τ"))}
		off := quantity.Drop(rapid.Float64Range(0.1, 2000).Draw(t, "off"))
		wait, err := tail.Until(off)
		if err != nil {
			t.Fatal(err)
		}
		left := float64(tail.Excess) * math.Exp(-float64(wait/tail.Tau))
		if wait == 0 && left > float64(off) || wait > 0 && math.Abs(left/float64(off)-1) > 1e-9 {
			t.Fatalf("after %v s it is off by %v, want %v", wait, left, off)
		}
	})
}

// Readings of a known tail with a known scatter: nine in ten or more of the 95 % intervals hold the truth.
func TestTailHoldsTheTruth(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1601))
	hits, told := 0, 0
	for told < 1000 {
		settled, excess, tau := 100+200*r.Float64(), 50+100*r.Float64(), 6+10*r.Float64()
		var readings []decay.Settling
		for _, at := range []float64{5, 10, 15, 20, 30, 45, 60} {
			drop := settled + excess*math.Exp(-at/tau) + r.NormFloat64()
			readings = append(readings, decay.Settling{Stabilised: quantity.Duration(at), Drop: quantity.Drop(drop), U: 1})
		}
		tail, err := decay.TailOf(readings)
		if err != nil {
			continue
		}
		told++
		if math.Abs(float64(tail.Settled)-settled) < 1.96*float64(tail.SettledU) {
			hits++
		}
	}
	if hits < 930 || hits > 970 {
		t.Errorf("%d of 1000 intervals hold the truth", hits)
	}
}

func TestTailFaults(t *testing.T) {
	rising := sealedMaster(0)
	rising[2].Drop = 260
	_, up := decay.TailOf(rising)
	_, few := decay.TailOf(sealedMaster(0)[:2])
	_, off := decay.Tail{Tau: 1, Excess: 1}.Until(0)
	for want, err := range map[string]error{"not-falling readings": up, "too-few-readings readings": few, "not-positive off": off} {
		var fault *quantity.Fault
		if !errors.As(err, &fault) || fault.Code+" "+fault.Field != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

// A leaking volume whose temperature wanders: the slope is the leak, and nine in ten or more of its 95 % intervals hold it.
func TestSlopeHoldsTheTruth(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 1601))
	const volume = 200e-6
	hits, n := 0, 1000
	for range n {
		leak, kelvin := 1e-6*(0.2+r.Float64()), 290+10*r.Float64()
		held := 300e3 * volume / (8.314462618 * kelvin)
		var samples []decay.Sample
		for i := range 12 {
			at := 5 * float64(i)
			now := kelvin + 0.3*math.Sin(at/17)
			p := (held - leak*at) * 8.314462618 * now / volume
			samples = append(samples, decay.Sample{Time: quantity.Duration(at), State: decay.State{Pressure: quantity.Absolute(p + 3*r.NormFloat64()), Temperature: quantity.Temperature(now)}})
		}
		s, err := decay.SlopeOf(decay.Measured[quantity.Volume]{Value: volume}, samples)
		if err != nil || s.DegreesOfFreedom != 10 {
			t.Fatal(s, err)
		}
		if math.Abs(float64(s.Rate)-leak) < 2.228*float64(s.U) { // t of 95 % with 10 degrees of freedom
			hits++
		}
	}
	if hits < 930 || hits > 970 {
		t.Errorf("%d of %d intervals hold the truth", hits, n)
	}
}

// What is uncertain of the volume goes into the slope as a share of it.
func TestSlopeOfVolume(t *testing.T) {
	samples := []decay.Sample{{Time: 0, State: warm}, {Time: 10, State: decay.State{Pressure: 301.125e3, Temperature: 296.15}}, {Time: 20, State: decay.State{Pressure: 300.925e3, Temperature: 296.15}}}
	s, err := decay.SlopeOf(decay.Measured[quantity.Volume]{Value: 200e-6, U: 10e-6}, samples)
	if err != nil {
		t.Fatal(err)
	}
	plain, _ := decay.Test{Volume: 200e-6, Time: 20, Temperature: 296.15}.Rate(400)
	within(t, "rate", float64(s.Rate), float64(plain), 1e-9)
	within(t, "its uncertainty", float64(s.U/s.Rate), 0.05, 1e-6)
}

func TestSlopeFaults(t *testing.T) {
	good := decay.Measured[quantity.Volume]{Value: 1e-4}
	three := []decay.Sample{{Time: 0, State: warm}, {Time: 0, State: warm}, {Time: 0, State: warm}}
	_, span := decay.SlopeOf(good, three)
	_, few := decay.SlopeOf(good, three[:2])
	_, volume := decay.SlopeOf(decay.Measured[quantity.Volume]{}, three)
	_, wide := decay.SlopeOf(decay.Measured[quantity.Volume]{Value: 1, U: 2}, three)
	three[1].Pressure = 0
	_, pressure := decay.SlopeOf(good, three)
	for want, err := range map[string]error{
		"no-span x": span, "too-few-readings readings": few, "not-positive volume": volume, "out-of-range volume-uncertainty": wide, "not-positive gas-pressure": pressure,
	} {
		var fault *quantity.Fault
		if !errors.As(err, &fault) || fault.Code+" "+fault.Field != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

func ExampleTailOf() {
	tail, err := decay.TailOf(sealedMaster(0))
	if err != nil {
		panic(err)
	}
	wait, _ := tail.Until(1)
	fmt.Printf("settles to %.0f Pa with τ = %.0f s; after %.0f s it is off by 1 Pa\n", tail.Settled, tail.Tau, wait)
	// Output: settles to 210 Pa with τ = 11 s; after 47 s it is off by 1 Pa
}

func ExampleSlopeOf() {
	var samples []decay.Sample
	for i := range 5 {
		samples = append(samples, decay.Sample{Time: quantity.Duration(10 * i), State: decay.State{Pressure: 301325 - quantity.Absolute(180*i), Temperature: 296.15}})
	}
	s, err := decay.SlopeOf(decay.Measured[quantity.Volume]{Value: 200e-6, U: 4e-6}, samples)
	if err != nil {
		panic(err)
	}
	p, _ := quantity.Print(s.Rate, "std cm3/min@0C", 3)
	fmt.Printf("%s %s, of which 2 %% are uncertain: %.2f\n", p.Number, p.Unit, s.U/s.Rate)
	// Output: 1.97 std cm3/min@0C, of which 2 % are uncertain: 0.02
}
