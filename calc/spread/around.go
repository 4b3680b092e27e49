package spread

// Around is a value above zero with a standard uncertainty u of its own: normal, cut off at zero; the value itself where u is 0.
func Around(value, u float64) Distribution {
	if u == 0 {
		return Exact(value)
	}
	return Positive{Mean: value, SD: u}
}
