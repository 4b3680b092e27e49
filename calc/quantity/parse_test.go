package quantity_test

import (
	"errors"
	"math"
	"testing"

	"jointwalk/calc/quantity"
)

// near says whether two numbers agree to 1e-12 of the larger.
func near(a, b float64) bool {
	return math.Abs(a-b) <= 1e-12*math.Max(math.Abs(a), math.Abs(b))
}

// fault is the Fault in err; the test ends without one.
func fault(t *testing.T, err error) *quantity.Fault {
	t.Helper()
	var f *quantity.Fault
	if !errors.As(err, &f) {
		t.Fatalf("want a *quantity.Fault, got %v", err)
	}
	return f
}

func TestParseLength(t *testing.T) {
	for _, c := range []struct {
		text, unit string
		metres     float64
	}{
		{"3", "mm", 0.003},
		{"3.5", "mm", 0.0035},
		{"3,5", "mm", 0.0035},
		{" 3,5 ", " mm ", 0.0035},
		{"+0.3", "cm", 0.003},
		{"1e-3", "m", 0.001},
		{".5", "mm", 0.0005},
		{"1", "in", 0.0254},
		{"1/4", "in", 0.00635},
		{"3/16", "\"", 0.0047625},
		{"1 1/2", "in", 0.0381},
		{"1-1/2", "inch", 0.0381},
		{"0,25", "in", 0.00635},
	} {
		got, err := quantity.Parse[quantity.Length](c.text, c.unit)
		if err != nil || !near(float64(got), c.metres) {
			t.Errorf("%q %q: got %v, %v; want %v m", c.text, c.unit, got, err, c.metres)
		}
	}
}

func TestParseOthers(t *testing.T) {
	volume, err := quantity.Parse[quantity.Volume]("200", "cm³")
	check(t, float64(volume), 200e-6, err)
	volume, err = quantity.Parse[quantity.Volume]("0,2", "L")
	check(t, float64(volume), 200e-6, err)
	volume, err = quantity.Parse[quantity.Volume]("1", "in3")
	check(t, float64(volume), 16.387064e-6, err)
	flow, err := quantity.Parse[quantity.VolumeFlow]("0.45", "mL/min")
	check(t, float64(flow), 7.5e-9, err)
	vacuum, err := quantity.Parse[quantity.Gauge]("-80", "kPa")
	check(t, float64(vacuum), -80e3, err)
	barometer, err := quantity.Parse[quantity.Absolute]("1013.25", "mbar")
	check(t, float64(barometer), 101325, err)
	warm, err := quantity.Parse[quantity.Temperature]("23", "°C")
	check(t, float64(warm), 296.15, err)
	warm, err = quantity.Parse[quantity.Temperature]("73.4", "F")
	check(t, float64(warm), 296.15, err)
	frost, err := quantity.Parse[quantity.Temperature]("-40", "C")
	check(t, float64(frost), 233.15, err)
	time, err := quantity.Parse[quantity.Duration]("1.5", "min")
	check(t, float64(time), 90, err)
	rate, err := quantity.Parse[quantity.MolarFlow]("1", "sccm@0C")
	check(t, float64(rate), 101325.0/60e6/(8.31446261815324*273.15), err)
}

func check(t *testing.T, got, want float64, err error) {
	t.Helper()
	if err != nil || !near(got, want) {
		t.Errorf("got %v, %v; want %v", got, err, want)
	}
}

func TestNotANumber(t *testing.T) {
	for _, text := range []string{
		"", " ", "abc", "3mm", "NaN", "Inf", "-inf", "0x10", "1_000", "1,234.5", "1.2.3", "1,2,3",
		"--1", "e5", "1e999", "٣", "1/0", "1/2/3", "/4", "1/", "1 /4", "-1/4", "½",
		"0.00000000000000000000000000000000000001",
	} {
		_, err := quantity.Parse[quantity.Length](text, "in")
		if f := fault(t, err); f.Code != quantity.CodeNotANumber || f.Text != text {
			t.Errorf("%q: got %v, want not-a-number with its text", text, err)
		}
	}
	if _, err := quantity.Parse[quantity.Length]("1/4", "mm"); fault(t, err).Code != quantity.CodeNotANumber {
		t.Error("a fraction of a millimetre was read")
	}
}

func TestNotPositive(t *testing.T) {
	_, err := quantity.Parse[quantity.Length]("0", "mm")
	expect(t, err, quantity.CodeNotPositive)
	_, err = quantity.Parse[quantity.Length]("-0,5", "mm")
	expect(t, err, quantity.CodeNotPositive)
	_, err = quantity.Parse[quantity.Temperature]("-273.15", "C")
	expect(t, err, quantity.CodeNotPositive)
	_, err = quantity.Parse[quantity.Absolute]("-1", "bar")
	expect(t, err, quantity.CodeNotPositive)
	_, err = quantity.Parse[quantity.MolarFlow]("0", "mol/s")
	expect(t, err, quantity.CodeNotPositive)
	if _, err = quantity.Parse[quantity.Gauge]("0", "bar"); err != nil {
		t.Errorf("no gauge pressure is a gauge pressure: %v", err)
	}
	if _, err = quantity.Parse[quantity.Drop]("-3", "Pa"); err != nil {
		t.Errorf("a rise is a drop below zero: %v", err)
	}
}

func expect(t *testing.T, err error, code string) {
	t.Helper()
	if f := fault(t, err); f.Code != code {
		t.Errorf("got %q, want %q", f.Code, code)
	}
}

func TestUnitFaults(t *testing.T) {
	_, err := quantity.Parse[quantity.Length]("3", "bar")
	f := fault(t, err)
	if f.Code != quantity.CodeUnitKind || f.Want != quantity.KindLength || f.Got != quantity.KindPressure {
		t.Errorf("got %v, want both kinds named", err)
	}
	if s := err.Error(); s != "unit-kind [bar]: wanted length, got pressure" {
		t.Errorf("the log says %q", s)
	}
	_, err = quantity.Parse[quantity.Length]("3..", "mm")
	if s := err.Error(); s != "not-a-number \"3..\" [mm]" {
		t.Errorf("the log says %q", s)
	}
	_, err = quantity.Parse[quantity.Length]("3", "furlong")
	expect(t, err, quantity.CodeUnitUnknown)
	_, err = quantity.Parse[quantity.Length]("3", "mm@0C")
	expect(t, err, quantity.CodeUnitUnknown)
	_, err = quantity.Parse[quantity.MolarFlow]("3", "std cm3/min")
	expect(t, err, quantity.CodeReferenceMissing)
	_, err = quantity.Parse[quantity.MolarFlow]("3", "Pa.m3/s")
	expect(t, err, quantity.CodeReferenceMissing)
	_, err = quantity.Parse[quantity.MolarFlow]("3", "std cm3/min@5C")
	expect(t, err, quantity.CodeReferenceUnknown)
	_, err = quantity.From[quantity.Volume](1, "mm")
	expect(t, err, quantity.CodeUnitKind)
	_, err = quantity.In(quantity.Volume(1), "mm")
	expect(t, err, quantity.CodeUnitKind)
	_, err = quantity.Print(quantity.Volume(1), "gal", 3)
	expect(t, err, quantity.CodeUnitUnknown)
}

// FuzzParse: whatever is typed, the answer is a finite value above zero or a
// Fault with a code, and a value comes back from its own print.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"3,5", "1 1/2", "-", "1e5", "NaN", "1,234.5", "0", "²"} {
		f.Add(s, "in")
	}
	f.Add("2.00", "std cm3/min@0C")
	f.Fuzz(func(t *testing.T, text, unit string) {
		q, err := quantity.Parse[quantity.Length](text, unit)
		if err != nil {
			if fault(t, err).Code == "" {
				t.Fatal("a fault without a code")
			}
			return
		}
		if !(q > 0) || math.IsInf(float64(q), 0) {
			t.Fatalf("%q %q became %v", text, unit, q)
		}
		p, err := quantity.Print(q, unit, 15)
		if err != nil {
			t.Fatal(err)
		}
		back, err := quantity.Parse[quantity.Length](p.Number, unit)
		if err != nil || math.Abs(float64(back/q)-1) > 1e-13 {
			t.Fatalf("%q %q came back as %v, %v", text, unit, back, err)
		}
	})
}
