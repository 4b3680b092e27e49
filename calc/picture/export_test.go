package picture

// ForTest carries a point from a rectangle into the picture and back.
func ForTest(long, short float64, to [4]Point, p Point) (there, again Point, err error) {
	m, err := ofRectangle(long, short, to)
	there = m.at(p)
	return there, m.back().at(there), err
}
