package gas

import "math"

// law is the viscosity of a species at low pressure, in µPa·s, by the temperature in K.
type law interface{ at(t float64) float64 }

// The two customary leading factors of a well, in µPa·s nm² √(mol/(g K)): with the collision integral Ω, and with the
// effective cross section 𝔖 = 4 Ω/5 that its authors tabulate instead.
const (
	chapman = 0.0266958
	section = 0.021357
)

// nonpolar are the coefficients of ln Ω that air, nitrogen, oxygen and argon share.
var nonpolar = [5]float64{0.431, -0.4623, 0.08406, 0.005341, -0.00331}

// well is the law of molecules with a size and an attractive well (Chapman–Enskog):
//
//	μ = factor √(M T)/(σ² Ω),   ln Ω = Σ bᵢ (ln T/ε)ⁱ
//
// with M in g/mol as its authors took it, σ in nm, ε in K.
type well struct {
	factor, mass, size, depth float64
	b                         [5]float64
}

func (w well) at(t float64) float64 {
	x, sum := math.Log(t/w.depth), 0.0
	for i := len(w.b) - 1; i >= 0; i-- {
		sum = sum*x + w.b[i]
	}
	return w.factor * math.Sqrt(w.mass*t) / (w.size * w.size * math.Exp(sum))
}

// power is μ = μ₀ (T/T₀)^(slope + bend ln T/T₀).
type power struct{ mu, t, slope, bend float64 }

func (p power) at(t float64) float64 {
	x := math.Log(t / p.t)
	return p.mu * math.Exp(x*(p.slope+p.bend*x))
}

// steam is water vapour: μ = 100 √τ/Σ Hᵢ τ⁻ⁱ, τ = T/647.096 K.
type steam struct{}

func (steam) at(t float64) float64 {
	r := 647.096 / t
	return 100 / (math.Sqrt(r) * (1.67752 + r*(2.20462+r*(0.6366564-r*0.241605))))
}

// wilke is the viscosity of a mixture of mole fractions x, molar masses m and viscosities mu (J. Chem. Phys. 18 (1950) 517–519):
//
//	μ = Σᵢ xᵢ μᵢ/Σⱼ xⱼ φᵢⱼ,   φᵢⱼ = (1 + √(μᵢ/μⱼ) (Mⱼ/Mᵢ)^¼)²/√(8 (1 + Mᵢ/Mⱼ))
func wilke(x, m, mu []float64) (sum float64) {
	for i := range x {
		below := 0.0
		for j := range x {
			root := 1 + math.Sqrt(mu[i]/mu[j]*math.Sqrt(m[j]/m[i]))
			below += x[j] * root * root / math.Sqrt(8*(1+m[i]/m[j]))
		}
		sum += x[i] * mu[i] / below
	}
	return sum
}
