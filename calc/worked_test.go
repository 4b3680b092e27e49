package calc_test

import (
	"math"
	"testing"

	"jointwalk/calc/decay"
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/calc/share"
)

// The worked station is an invented one, worked by hand: derived values, a consistency check within 2 % and no outside evidence.
// Most of its rows stand with the packages that they are about; here are those that put several together.

const std0 = "std cm3/min@0C"

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 0.02*math.Abs(want) {
		t.Errorf("%s: %.5g, want %.5g within 2 %%", what, got, want)
	}
}

var (
	station = decay.Test{Volume: 200e-6, Time: 10, Temperature: 296.15}
	limit   = must(quantity.From[quantity.MolarFlow](2, std0))
)

func std(n quantity.MolarFlow) float64 { return must(quantity.In(n, std0)) }

// The limit of 2.00 std cm³/min in every form.
func TestWorkedLimit(t *testing.T) {
	near(t, "mol/s", float64(limit), 1.487e-6)
	near(t, "Pa m³/s", must(quantity.In(limit, "Pa.m3/s@0C"))*296.15/273.15, 3.662e-3)
	near(t, "in 10 s", float64(must(station.Drop(limit))), 183.1)
	near(t, "its allowance", float64(must(station.Drop(must(share.Allowance(limit, share.UsualAllowance))))), 18.3)
	at20 := must(quantity.From[quantity.MolarFlow](2, "std cm3/min@20C"))
	near(t, "were the reference 20 °C", float64(must(station.Drop(at20))), 170.6)
}

// Rates are subtracted, never pascals of different volumes: 4 Pa in the instrument's own 15 cm³ are 0.3 Pa at the station.
func TestWorkedInstrumentAlone(t *testing.T) {
	alone := station
	alone.Volume = 15e-6
	rate := must(alone.Rate(4))
	near(t, "as a leak", std(rate), 0.0033)
	near(t, "at the station", float64(must(station.Drop(rate))), 0.3)
}

// After the repair 12 Pa are left: 0.13 std cm³/min, 6.6 % of the limit, inside the allowance.
func TestWorkedRepair(t *testing.T) {
	rate := must(station.Rate(12))
	near(t, "left", std(rate), 0.131)
	near(t, "of the limit", 100*float64(rate/limit), 6.6)
	if allowance := must(share.Allowance(limit, share.UsualAllowance)); rate >= allowance {
		t.Errorf("%v is not inside the allowance %v", rate, allowance)
	}
}

// The naive answer leaves the tail in and subtracts pascals of different volumes.
func TestWorkedNaiveAnswer(t *testing.T) {
	near(t, "naive", (240-4)/float64(must(station.Drop(limit)))*2, 2.58)
}

// The vacuum twin at −80 kPa, limit 1.00: 91.5 Pa rise in 10 s; 1 K is 72 Pa; 0.13 mg of evaporating water looks like the limit.
func TestWorkedVacuum(t *testing.T) {
	rise := must(station.Drop(limit / 2))
	near(t, "rise", float64(rise), 91.5)
	held := decay.State{Pressure: quantity.Gauge(-80e3).Absolute(quantity.Atmosphere), Temperature: 296.15}
	near(t, "1 K", float64(must(held.PerKelvin())), 72)
	water := must(gas.Of(gas.WaterVapour))
	moles := float64(rise) * float64(station.Volume) / (gas.R * 296.15)
	if mg := quantity.Number(moles*float64(water.MolarMass())*1e6, 2); mg != "0.13" {
		t.Errorf("%s mg of water, want 0.13", mg)
	}
}
