package summary

// Shelf keeps fixtures' cards over a restart, so that a phone lists its fixtures without reading all that it holds of them. A
// card stands as long as its fixture's lines are those that it was made of. The zero value is an empty shelf; nil keeps nothing.
type Shelf struct {
	Cards map[string]Shelved `json:"cards"` // by fixture
	// New says that there is a card which was not on the shelf when that was read.
	New bool `json:"-"`
}

// Shelved is a card with the print of the lines that it was made of.
type Shelved struct {
	Print uint64      `json:"print"`
	Card  FixtureCard `json:"card"`
}

// card gives a fixture's card, nil where no event registered it: off the shelf, or made anew and put there.
func (s *Shelf) card(d *Desk, id string) *FixtureCard {
	print, unread := d.Book.Print(id)
	if s != nil && unread {
		if kept, ok := s.Cards[id]; ok && kept.Print == print {
			return &kept.Card
		}
	}
	f := d.Book.Fixture(id)
	if f == nil {
		return nil
	}
	card := d.fixtureCard(f)
	if s != nil && unread {
		s.put(id, Shelved{print, card})
	}
	return &card
}

func (s *Shelf) put(id string, kept Shelved) {
	if s.Cards == nil {
		s.Cards = map[string]Shelved{}
	}
	s.Cards[id], s.New = kept, true
}
