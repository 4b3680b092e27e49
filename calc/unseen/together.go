package unseen

import (
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
)

// Together bounds the sum of the leaks of several joints, each watched without
// a bubble, with 95 %.
//
// No bubble at all says Σ Qᵢ Tᵢ/vᵢ ≤ m, with m = −ln 0.05; the largest sum that
// this allows is m·max(vᵢ/Tᵢ): for equal looks 3.0·v/T, not N times it. A joint
// whose paths are plugged shows nothing however long one looks and may add its
// floor fᵢ. With one joint k taking the clock's bound and all others plugged,
//
//	Σ Q ≤ max over k of ( Σ fᵢ − f_k + max(m v_k/T_k, f_k) )
//
// which is Bound for one joint. The reason of the first joint that nothing can
// be said of stands for all. No looks at all are a caller's mistake. Errors as
// Bound.
func Together(looks []Look) (Bound, error) {
	if len(looks) == 0 {
		panic("unseen: together of no looks")
	}
	var floors, beyond quantity.MolarFlow // beyond: what joint k may leak over its floor
	var most Bound
	for i, l := range looks {
		b, err := l.Bound()
		if err != nil || b.Cannot != "" {
			return b, err
		}
		floors += l.plugged()
		if over := b.Upper - l.plugged(); i == 0 || over > beyond {
			most, beyond = b, over
		}
	}
	if sum := floors + beyond; sum > 2*most.Upper { // the others' floors are the larger part
		most.From = FromPlugging
	}
	most.Upper = floors + beyond
	most.Volume = gas.Volume(most.Upper, looks[0].Ambient)
	return most, nil
}

// plugged is the leak that a wetted path may hide for ever, zero where
// plugging is left out of account.
func (l Look) plugged() quantity.MolarFlow {
	if l.Path == nil {
		return 0
	}
	return l.Path.floor(l.Time, l.Ambient)
}
