package record

// Photos are the pictures by which fixtures are known: of each fixture that is
// here the photo that shows now, those added last first, as many as a room of
// most bytes takes.
func (b *Book) Photos(most int) (hashes []string) {
	shown := b.shown()
	for ; len(shown) > 0; shown = shown[1:] {
		for i := range shown {
			if before(shown[0].photo, shown[i].photo) {
				shown[0], shown[i] = shown[i], shown[0]
			}
		}
		if most -= shown[0].size; most < 0 {
			break
		}
		hashes = append(hashes, shown[0].hash)
	}
	return hashes
}

// shown are the photos that show now, one a fixture: as the replay of its events
// has it, the last that was not taken back. No fixture is read for it.
func (b *Book) shown() (shown []*mention) {
	for _, m := range b.Album.pictures {
		if m.photo == nil || m.gone || b.pages[m.photo.About.Fixture] == nil {
			continue
		}
		at := len(shown)
		for i, other := range shown {
			if other.photo.About.Fixture == m.photo.About.Fixture {
				at = i
			}
		}
		if at == len(shown) {
			shown = append(shown, m)
		} else if before(shown[at].photo, m.photo) {
			shown[at] = m
		}
	}
	return shown
}
