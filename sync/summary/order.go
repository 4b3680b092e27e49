package summary

import "jointwalk/sync/record"

// shown gives looks in the order in which to show them, oldest first. The order
// of replay, which they have, leaves clocks out.
func shown(looks []*record.LookState) []*record.LookState {
	looks = append([]*record.LookState(nil), looks...)
	record.Arrange(looks, func(a, b *record.LookState) bool { return a.Made.Before(&b.Made) })
	return looks
}
