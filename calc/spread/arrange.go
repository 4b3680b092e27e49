package spread

// arrange puts the values that sorting would put at some places, in ascending order, there; what is smaller stands before
// them and what is larger behind (Hoare's selection). Places outside of s are passed over. Sorting all would be a third of
// an estimate on a phone.
func arrange(s []float64, places ...int) { arrangeFrom(s, 0, places) }

// arrangeFrom arranges a part of a sample that begins at a place of it.
func arrangeFrom(s []float64, from int, places []int) {
	for len(s) > 1 {
		for len(places) > 0 && places[0] < from {
			places = places[1:]
		}
		if len(places) == 0 || places[0] >= from+len(s) {
			return
		}
		left, right := partition(s)
		arrangeFrom(s[:left], from, places)
		s, from = s[right:], from+right
	}
}

// partition moves what is at most the middle value of three before left, what is at least that from right on. What stands
// between is that value.
func partition(s []float64) (left, right int) {
	pivot := middle(s[0], s[len(s)/2], s[len(s)-1])
	i, j := 0, len(s)-1
	for i <= j {
		for s[i] < pivot {
			i++
		}
		for s[j] > pivot {
			j--
		}
		if i <= j {
			s[i], s[j] = s[j], s[i]
			i++
			j--
		}
	}
	return j + 1, i
}

func middle(a, b, c float64) float64 { return max(min(a, b), min(max(a, b), c)) }
