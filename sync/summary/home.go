package summary

import "jointwalk/sync/record"

// Home lists the reader's sites in their order, each with its fixtures.
func (d *Desk) Home(HomeQuestion) (Home, error) {
	home := Home{Sites: []SiteCard{}}
	cards := d.fixtureCards()
	for _, site := range d.Names.Sites {
		card := SiteCard{ID: site.ID, Name: site.Name, Fixtures: []FixtureCard{}}
		for _, f := range cards {
			if f.Site == site.ID {
				card.Fixtures = append(card.Fixtures, *f)
			}
		}
		home.Sites = append(home.Sites, card)
	}
	return home, nil
}

// fixtureCards are the cards of all fixtures, by name and then id.
func (d *Desk) fixtureCards() []*FixtureCard {
	var cards []*FixtureCard
	for _, id := range d.Book.IDs() {
		if card := d.Shelf.card(d, id); card != nil {
			cards = append(cards, card)
		}
	}
	record.Arrange(cards, func(a, b *FixtureCard) bool { return a.Name < b.Name || a.Name == b.Name && a.ID < b.ID })
	return cards
}

func (d *Desk) fixtureCard(f *record.FixtureState) FixtureCard {
	card := FixtureCard{
		ID: f.ID, Site: f.Site, Name: f.Name, Place: f.Place, Tag: f.Tag,
		Mark: fixtureMark(f), Says: d.fixtureSays(f), Conflicts: conflicting(f),
	}
	for _, j := range f.Joints {
		if !j.Retired && waiting(j) != "" {
			card.Waiting++
		}
	}
	if r := f.OpenRound(); r != nil {
		card.OpenRound = r.ID
	}
	return card
}

// fixtureMark is the gravest mark among the joints.
func fixtureMark(f *record.FixtureState) Mark {
	var marks []Mark
	for _, j := range f.Joints {
		if !j.Retired {
			marks = append(marks, jointMark(j))
		}
	}
	return worst(marks)
}
