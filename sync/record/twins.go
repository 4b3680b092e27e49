package record

import "slices"

// Twins are the joints that bear one name, given to them on different devices: a
// list for each such name, in place order. Retired joints are left out. One
// device may give a name twice: whoever does sees it.
func (f *FixtureState) Twins() [][]*JointState {
	var all [][]*JointState
	for i, first := range f.Joints {
		if !slices.ContainsFunc(f.Joints[i+1:], first.alike) || slices.ContainsFunc(f.Joints[:i], first.alike) {
			continue // most joints: nothing is made for them
		}
		same := []*JointState{first}
		for _, j := range f.Joints[i+1:] {
			if first.alike(j) {
				same = append(same, j)
			}
		}
		if slices.ContainsFunc(same, first.namedApart) {
			all = append(all, same)
		}
	}
	return all
}

// alike says whether two joints that are not retired have one name.
func (j *JointState) alike(other *JointState) bool {
	return !j.Retired && !other.Retired && j.Name == other.Name
}

// namedApart says whether two joints have their names from different devices.
func (j *JointState) namedApart(other *JointState) bool {
	return j.Named.entry.Log != other.Named.entry.Log
}
