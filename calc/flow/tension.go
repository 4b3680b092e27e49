package flow

import "jointwalk/calc/quantity"

// BubbleExcess is the pressure in a gas bubble of radius r above that of the liquid around it, 2σ/r (any text). Errors of
// all three are a *quantity.Fault, "not-positive" or "not-a-number", of the field "tension", "radius" or "pressure".
func BubbleExcess(sigma quantity.Tension, r quantity.Length) (quantity.Gauge, error) {
	q, err := twice(sigma, "radius", float64(r))
	return quantity.Gauge(q), err
}

// FilmExcess is the pressure in a bubble blown of a film of solution above that of the air around it, 4σ/r: a film has two
// surfaces (any text). Errors as BubbleExcess.
func FilmExcess(sigma quantity.Tension, r quantity.Length) (quantity.Gauge, error) {
	q, err := twice(sigma, "radius", float64(r))
	return quantity.Gauge(2 * q), err
}

// SmallestBubble is the radius 2σ/Δp of the smallest bubble that gas at Δp above its surroundings can blow into a liquid, and
// of the narrowest channel that it can blow clear of it. Errors as BubbleExcess.
func SmallestBubble(sigma quantity.Tension, p quantity.Gauge) (quantity.Length, error) {
	q, err := twice(sigma, "pressure", float64(p))
	return quantity.Length(q), err
}

// twice is 2σ/x.
func twice(sigma quantity.Tension, field string, x float64) (float64, error) {
	if err := quantity.Positive("tension", float64(sigma)); err != nil {
		return 0, err
	}
	if err := quantity.Positive(field, x); err != nil {
		return 0, err
	}
	return 2 * float64(sigma) / x, nil
}
