package flow

import "jointwalk/calc/quantity"

// The models by which a leak may follow its condition, each with its factor from a condition a to a condition b.
const (
	// ModelLaminar: a rigid channel much wider than λ. (p1² − p2²)/(μ T) at b over that at a.
	ModelLaminar = "laminar"
	// ModelWide: a rigid channel of Kn 0.1, the widest in transition, at that of the two conditions where λ is longer. By
	// Channel.Sum.
	ModelWide = "transition-wide"
	// ModelNarrow: as ModelWide with Kn 10, the narrowest in transition.
	ModelNarrow = "transition-narrow"
	// ModelMolecular: rigid channels much narrower than λ. (p1 − p2)/√(M T) at b over that at a.
	ModelMolecular = "molecular"
	// ModelOrifice: a rigid short hole, choked or not. Cf p1/√(M T) at b over that at a.
	ModelOrifice = "orifice"
	// ModelCloser: a seal whose opening changes with what drives the gas. ModelLaminar's factor times s or 1/s, whichever
	// is smaller, s being p1 − p2 at b over that at a. Judgement, no source: how seals move has no formula.
	ModelCloser = "elastic-closer"
	// ModelWider: as ModelCloser, with whichever of s and 1/s is larger.
	ModelWider = "elastic-wider"
)

// The reasons why a leak cannot be carried over.
const (
	// CannotUnknownKind: this is no kind of joint that is known here.
	CannotUnknownKind = "kind-unknown"
	// CannotNoDrive: in one of the two conditions nothing drives the gas.
	CannotNoDrive = "no-drive"
	// CannotElastic: the gas runs the other way, which presses a seal elsewhere: it may open, or close.
	CannotElastic = "elastic-other-way"
	// CannotOneWay: the gas runs the other way, which this kind of joint lets through, or not, by design.
	CannotOneWay = "one-way-other-way"
)

// Share is what one model says.
type Share struct {
	// Model is one of the models.
	Model string
	// Weight is how far the model is believed of this kind of joint, 0 to 1; all weights together are 1. A model of weight
	// 0 is possible and told, but does not widen the bounds. Judgement: common practice, no source.
	Weight float64
	// Factor is the leak at b over the leak at a, above 0.
	Factor float64
}

// Carried is a leak seen under another condition: either Cannot is set, or all the rest is.
type Carried struct {
	// Shares are the models that the kind of joint admits.
	Shares []Share
	// Low and High are the lowest and the highest factor among the models that have weight.
	Low, High float64
	// Cannot is the reason why there is nothing to say, one of the codes above, otherwise "".
	Cannot string
}

// Carry tells by what a leak at a kind of joint, measured in the condition a, must be multiplied to be had in the condition b.
// The kinds are the codes of the joints. Gas and temperature may differ too. Errors are Condition.Check's, of a first.
//
// The lower bound of a rigid joint at equal drive is that of ModelNarrow and not of ModelMolecular, which has no weight
// there: a channel of Kn 10 in air is some 20 nm wide, and of such channels it takes some 10⁹ to make 0.01 std cm³/min. From
// −80 to +80 kPa of gauge pressure ModelNarrow is 1.02 and ModelMolecular 1.00; by Channel.Transition, which has a dip
// between the two, ModelNarrow would be 0.98.
func Carry(kind string, a, b Condition) (Carried, error) {
	if err := a.Check(); err != nil {
		return Carried{}, err
	}
	if err := b.Check(); err != nil {
		return Carried{}, err
	}
	weights, turned := behaviour(kind)
	switch {
	case weights == nil:
		return Carried{Cannot: CannotUnknownKind}, nil
	case a.Inside == a.Outside || b.Inside == b.Outside:
		return Carried{Cannot: CannotNoDrive}, nil
	case turned != "" && a.Outward() != b.Outward():
		return Carried{Cannot: turned}, nil
	}
	return carried(weights, a, b), nil
}

func carried(weights []Share, a, b Condition) Carried {
	var c Carried
	for _, s := range weights {
		s.Factor = factor(s.Model, a, b)
		c.Shares = append(c.Shares, s)
		if s.Weight == 0 {
			continue
		}
		if c.High == 0 {
			c.Low, c.High = s.Factor, s.Factor
		}
		c.Low, c.High = min(c.Low, s.Factor), max(c.High, s.Factor)
	}
	return c
}

// Factor is what one model says of a leak from a to b: that of a calibrated leak, whose model is known, of today over the
// certified. Errors are Condition.Check's, of a first, and a *quantity.Fault of the field "drive" where in one of the two
// nothing drives the gas. A model that is not one of the models is a caller's mistake.
func Factor(model string, a, b Condition) (float64, error) {
	for _, c := range [...]Condition{a, b} {
		if err := driven(1, c); err != nil {
			return 0, err
		}
	}
	return factor(model, a, b), nil
}

// factor is Factor between conditions that are in order.
func factor(model string, a, b Condition) float64 {
	unit, hole := Channel{Diameter: 1, Length: 1}, Orifice{Area: 1, Discharge: 1}
	switch model {
	case ModelLaminar:
		return unit.laminar(b) / unit.laminar(a)
	case ModelMolecular:
		return unit.molecular(b) / unit.molecular(a)
	case ModelOrifice:
		return hole.flow(b) / hole.flow(a)
	case ModelWide:
		return between(0.1, a, b)
	case ModelNarrow:
		return between(10, a, b)
	case ModelCloser, ModelWider:
		return moved(model == ModelWider, unit.laminar(b)/unit.laminar(a), a, b)
	}
	panic("flow: no such model")
}

// between is the factor of the channel that has a Knudsen number where λ is longer, so that the way back is the inverse.
func between(kn float64, a, b Condition) float64 {
	h := Channel{Diameter: quantity.Length(2 * max(a.freePath(), b.freePath()) / kn), Length: 1}
	return h.sum(b) / h.sum(a)
}

// moved is a factor after the seal has moved.
func moved(wider bool, factor float64, a, b Condition) float64 {
	highA, lowA := a.ends()
	highB, lowB := b.ends()
	s := (highB - lowB) / (highA - lowA)
	if wider {
		return factor * max(s, 1/s)
	}
	return factor * min(s, 1/s)
}
