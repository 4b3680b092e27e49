package summary

import (
	"sort"

	"jointwalk/sync/record"
)

// arranging sorts lists that go together.
type arranging struct {
	n    int
	less func(i, j int) bool
	swap func(i, j int)
}

func (a *arranging) Len() int           { return a.n }
func (a *arranging) Less(i, j int) bool { return a.less(i, j) }
func (a *arranging) Swap(i, j int)      { a.swap(i, j) }

// arrange sorts n things; less must tell any two apart.
func arrange(n int, less func(i, j int) bool, swap func(i, j int)) {
	sort.Sort(&arranging{n, less, swap})
}

// shown gives looks in the order in which to show them, oldest first. The order
// of replay, which they have, leaves clocks out.
func shown(looks []*record.LookState) []*record.LookState {
	looks = append([]*record.LookState(nil), looks...)
	arrange(len(looks), func(i, j int) bool { return looks[i].Made.Before(looks[j].Made) },
		func(i, j int) { looks[i], looks[j] = looks[j], looks[i] })
	return looks
}
