package picture

import "math"

// doubt is an input with its standard uncertainty, and the part of the budget that it belongs to.
type doubt struct {
	part  int
	value *float64
	u     float64
}

// parts of the budget in their order.
var parts = [...]string{InputMarks, InputRim, InputForm, InputDepth, InputLens, InputScale}

// doubts are the inputs that are not known exactly.
func (in *inputs) doubts() []doubt {
	all := []doubt{
		{2, &in.form, 1}, {3, &in.depth, deepest / math.Sqrt(12)}, {3, &in.lens, lensU},
		{1, &in.out, edgeU}, {0, &in.in, edgeU},
		{4, &in.k1, distortion}, {4, &in.k2, distortion}, {5, &in.scale, scaleU}, {5, &in.slope, 1},
	}
	for i := range in.Marks {
		all = append(all, doubt{0, &in.Marks[i].X, Hand}, doubt{0, &in.Marks[i].Y, Hand})
	}
	for i := range in.Rim {
		all = append(all, doubt{1, &in.Rim[i].X, Hand}, doubt{1, &in.Rim[i].Y, Hand})
	}
	return all
}

// uncertainty is the standard uncertainty of the diameter in metres, infinite where an input within its own leaves no diameter.
func (in *inputs) uncertainty() (float64, []Part) {
	var of [len(parts)]float64
	sum := 0.0
	for _, d := range in.doubts() {
		c := in.change(d)
		of[d.part] += c * c
		sum += c * c
	}
	budget := make([]Part, len(parts))
	for i, name := range parts {
		budget[i] = Part{name, 100 * of[i] / sum}
	}
	return math.Sqrt(sum), budget
}

// change is half of what an input's uncertainty, up and down, makes of the diameter.
func (in *inputs) change(d doubt) float64 {
	was := *d.value
	*d.value = was + d.u
	up, wrong := in.find()
	*d.value = was - d.u
	down, wrongToo := in.find()
	*d.value = was
	if wrong != nil || wrongToo != nil {
		return math.Inf(1)
	}
	return (up.diameter - down.diameter) / 2
}
