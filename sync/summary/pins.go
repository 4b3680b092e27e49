package summary

import (
	"math"

	"jointwalk/sync/record"
)

// photoOf is the photo of a fixture that shows now, nil for none: the last one that was not withdrawn.
func photoOf(f *record.FixtureState) *record.PictureState {
	for i := len(f.Photos) - 1; i >= 0; i-- {
		if f.Photos[i].Withdrawn == nil {
			return f.Photos[i]
		}
	}
	return nil
}

// pinIn is where a joint is in a photo, nil where it was not pinned there.
func pinIn(photo *record.PictureState, j *record.JointState) *record.Pin {
	if photo == nil || j.Pin == nil || j.Pin.Photo != photo.Hash {
		return nil
	}
	return j.Pin
}

// walk gives joints their place, from 1, on a way over the pins in a photo: from the one nearest to its top left corner always
// on to the nearest that is left. Judgement: common practice, no source. Joints that are not pinned or were retired have none.
func walk(f *record.FixtureState) map[string]int {
	photo := photoOf(f)
	places, left := map[string]int{}, []*record.JointState{}
	for _, j := range f.Joints {
		if pinIn(photo, j) != nil && !j.Retired {
			left = append(left, j)
		}
	}
	x, y := 0.0, 0.0
	for len(left) > 0 {
		i := nearest(left, photo, x, y)
		x, y = left[i].Pin.X, left[i].Pin.Y
		places[left[i].ID] = len(places) + 1
		left = append(left[:i], left[i+1:]...)
	}
	return places
}

// nearest is the index of the joint whose pin is nearest to a place in a photo; of equals the first in place order.
func nearest(joints []*record.JointState, photo *record.PictureState, x, y float64) int {
	best, least := 0, math.Inf(1)
	for i, j := range joints {
		across, down := (j.Pin.X-x)*float64(photo.Width), (j.Pin.Y-y)*float64(photo.Height)
		if d := across*across + down*down; d < least {
			best, least = i, d
		}
	}
	return best
}
