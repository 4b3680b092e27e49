// Package share sets a leak rate against what is allowed: the program's reject
// limit, and the allowance, the part of it that the station itself may leak.
package share

import (
	"jointwalk/calc/quantity"
	"jointwalk/calc/spread"
)

// UsualAllowance is the share of the limit that a station itself may leak
// unless the site says otherwise. Common practice, no source.
const UsualAllowance = 0.10

// Allowance is part × limit. Errors are *quantity.Fault: "not-positive" or
// "not-a-number" with the field "limit" or "allowance", "too-large" for an
// allowance above the whole limit.
func Allowance(limit quantity.MolarFlow, part float64) (quantity.MolarFlow, error) {
	if err := quantity.Positive("limit", float64(limit)); err != nil {
		return 0, err
	}
	if err := quantity.Positive("allowance", part); err != nil {
		return 0, err
	}
	if part > 1 {
		return 0, &quantity.Fault{Code: quantity.CodeTooLarge, Field: "allowance"}
	}
	return quantity.MolarFlow(part) * limit, nil
}

// Of is a leak rate as a multiple of what is allowed (1 is all of it).
// Errors are *quantity.Fault: "not-positive" or "not-a-number" with the field "limit".
func Of(rate spread.Figure[quantity.MolarFlow], allowed quantity.MolarFlow) (spread.Figure[float64], error) {
	if err := quantity.Positive("limit", float64(allowed)); err != nil {
		return spread.Figure[float64]{}, err
	}
	return spread.Times[float64](rate, 1/float64(allowed)), nil
}

// Chance is the probability, 0 to 1, that a leak is above what is allowed.
func Chance(rate spread.Sample, allowed quantity.MolarFlow) float64 {
	return rate.Above(float64(allowed))
}
