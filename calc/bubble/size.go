package bubble

import (
	"math"

	"jointwalk/calc/quantity"
	"jointwalk/calc/spread"
)

// Size is the diameter of the bubbles when they burst or leave, as judged.
type Size struct {
	Diameter quantity.Length
	// U is the standard uncertainty of Diameter; zero for a diameter known exactly.
	U quantity.Length
	// N is how many bubbles were sized, and DoF the degrees of freedom of U: OfSeveral sets both. Zero is one bubble, with a U
	// that is known.
	N   int
	DoF float64
}

// What a size is taken to be uncertain by where the person says nothing.
// Judgement: common practice, no source.
const (
	// SizeShare is the share of the reading.
	SizeShare = 0.10
	// SizeLeast is the least for a reading in millimetres.
	SizeLeast quantity.Length = 0.3e-3
	// RingShare and RingLeast are for a bubble held beside rings of true size, half a millimetre from one to the next.
	RingShare                 = 0.05
	RingLeast quantity.Length = 0.2e-3
)

// largest bubble, beyond which no film and no rising sphere holds.
const largest quantity.Length = 0.1

// OfTube is a size judged beside a tube: so many times the tube's outer
// diameter, with a standard uncertainty of SizeShare of it (judgement).
func OfTube(times float64, tube quantity.Length) Size {
	d := quantity.Length(times) * tube
	return Size{Diameter: d, U: SizeShare * d}
}

// Measured is a size read in millimetres, with a standard uncertainty of
// SizeShare of it and at least SizeLeast (judgement).
func Measured(d quantity.Length) Size {
	return Size{Diameter: d, U: max(SizeShare*d, SizeLeast)}
}

// Matched is the diameter of the ring that a bubble was found to be as large as, with a standard uncertainty of RingShare of
// it and at least RingLeast (judgement).
func Matched(ring quantity.Length) Size {
	return Size{Diameter: ring, U: max(RingShare*ring, RingLeast)}
}

// OfVolume is the sphere of a volume, d = (6V/π)^⅓, without uncertainty: what
// the valve standards mean by a bubble.
func OfVolume(v quantity.Volume) Size {
	return Size{Diameter: quantity.Length(math.Cbrt(6 * float64(v) / math.Pi))}
}

// Distribution is normal, cut off at zero; that of several bubbles is d exp(t U/d) with Student's t.
func (s Size) Distribution() spread.Distribution {
	if s.DoF > 0 && s.U > 0 {
		return several{float64(s.Diameter), spread.Student{Scale: float64(s.U / s.Diameter), DoF: s.DoF}}
	}
	return spread.Around(float64(s.Diameter), float64(s.U))
}

// Check is nil for a size that can be used, and otherwise a *quantity.Fault of the field "size" or "size-uncertainty".
func (s Size) Check() error {
	if err := quantity.Positive("size", float64(s.Diameter)); err != nil {
		return err
	}
	if s.Diameter > largest {
		return &quantity.Fault{Code: quantity.CodeTooLarge, Field: "size"}
	}
	return Uncertain("size-uncertainty", float64(s.U), float64(s.Diameter))
}

// Uncertain refuses a standard uncertainty that is negative, no number, or larger than
// the value itself, with a *quantity.Fault of the field; zero is none.
func Uncertain(field string, u, value float64) error {
	if u == 0 {
		return nil
	}
	if err := quantity.Positive(field, u); err != nil {
		return err
	}
	if u > value {
		return &quantity.Fault{Code: quantity.CodeTooLarge, Field: field}
	}
	return nil
}
