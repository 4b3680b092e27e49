package record

// Arrange sorts by a less that must tell any two apart. It is quick where little
// is out of place, as events and looks are. Of pointers, whatever they point to,
// the compiler makes one routine, which keeps the phone's engine small. (Shell
// sort.)
func Arrange[P any](all []P, less func(a, b P) bool) {
	for gap := len(all); gap > 1; {
		gap = max(1, gap*4/9)
		for i := gap; i < len(all); i++ {
			moving, j := all[i], i
			for ; j >= gap && less(moving, all[j-gap]); j -= gap {
				all[j] = all[j-gap]
			}
			all[j] = moving
		}
	}
}
