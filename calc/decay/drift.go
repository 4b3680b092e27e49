package decay

import "jointwalk/calc/quantity"

// State is gas in a closed volume at one moment.
type State struct {
	Pressure    quantity.Absolute
	Temperature quantity.Temperature
}

func (s State) check(field string) error {
	if err := quantity.Positive(field+"-pressure", float64(s.Pressure)); err != nil {
		return err
	}
	return quantity.Positive(field+"-temperature", float64(s.Temperature))
}

// Between is the molar flow (V/R)(p₁/T₁ − p₂/T₂)/Δt that a rigid volume lost from one moment to another, whatever its
// temperature did meanwhile (40 CFR 1065.644). Errors are *quantity.Fault: "not-positive" or "not-a-number" with the field
// "volume", "time", "first-pressure", "first-temperature", "second-pressure" or "second-temperature".
func Between(volume quantity.Volume, time quantity.Duration, first, second State) (quantity.MolarFlow, error) {
	for _, err := range []error{
		quantity.Positive("volume", float64(volume)), quantity.Positive("time", float64(time)),
		first.check("first"), second.check("second"),
	} {
		if err != nil {
			return 0, err
		}
	}
	held := func(s State) float64 { return float64(s.Pressure) / float64(s.Temperature) }
	return quantity.MolarFlow(float64(volume) / quantity.GasConstant * (held(first) - held(second)) / float64(time)), nil
}

// PerKelvin is by how much the pressure of gas shut in a rigid volume changes with each kelvin: p/T, of absolute pressure and
// temperature. With the gauge pressure it would come out too small, at 400 kPa by a fifth. Errors as State's.
func (s State) PerKelvin() (quantity.Drop, error) {
	if err := s.check("gas"); err != nil {
		return 0, err
	}
	return quantity.Drop(float64(s.Pressure) / float64(s.Temperature)), nil
}

// Faking is by how many kelvins the gas needs to cool to drop by so much without any leak: Δp T/p. Errors as State's, and
// "not-a-number" with the field "value".
func (s State) Faking(drop quantity.Drop) (float64, error) {
	per, err := s.PerKelvin()
	if err != nil {
		return 0, err
	}
	if drop-drop != 0 {
		return 0, &quantity.Fault{Code: quantity.CodeNotANumber, Field: "value"}
	}
	return float64(drop / per), nil
}
