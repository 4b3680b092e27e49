package unseen

import "jointwalk/calc/quantity"

// Sight is how well a joint could be seen.
type Sight string

// The sights.
const (
	// Close: good light, near, nothing in the way.
	Close Sight = "close"
	// Partly: from a distance, at a slant or in poor light.
	Partly Sight = "partly"
)

// Light is how bright it was at the joint.
type Light string

// The lights.
const (
	// Bright is 1000 lx or more: a torch on it (ASME BPVC V article 9, T-952, from memory).
	Bright Light = "bright"
	// Dim is less.
	Dim Light = "dim"
)

// Access is how near the eye could come.
type Access string

// The accesses.
const (
	// Magnified: through a magnifier of three times or more, against a dull black ground (MIL-STD-202 method 112).
	Magnified Access = "magnified"
	// Near: within 600 mm and not below 30° (ASME BPVC V article 9, T-952, from memory).
	Near Access = "near"
	// Far: from further away, at a slant, or by a mirror.
	Far Access = "far"
)

// The smallest bubble that an eye finds, a hemisphere's diameter.
// Judgement: common practice, no source.
const (
	SmallestClose  quantity.Length = 1e-3
	SmallestPartly quantity.Length = 3e-3
	smallestMiddle quantity.Length = 2e-3
	smallestGlass  quantity.Length = 0.5e-3
)

// SmallestSeen is the diameter of the smallest bubble that an eye finds by light and access (judgement); 0 for a light or an
// access that is not listed.
func SmallestSeen(light Light, access Access) quantity.Length {
	bright := light == Bright
	switch {
	case !bright && light != Dim:
		return 0
	case access == Magnified && bright:
		return smallestGlass
	case access == Magnified, access == Near && bright:
		return SmallestClose
	case access == Near, access == Far && bright:
		return smallestMiddle
	case access == Far:
		return SmallestPartly
	default:
		return 0
	}
}
