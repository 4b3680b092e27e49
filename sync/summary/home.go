package summary

import "jointwalk/sync/record"

// Home lists the reader's sites in their order, each with its fixtures.
func (d *Desk) Home(HomeQuestion) (Home, error) {
	home := Home{Sites: []SiteCard{}}
	fixtures := d.Book.Fixtures()
	for _, site := range d.Names.Sites {
		card := SiteCard{ID: site.ID, Name: site.Name, Fixtures: []FixtureCard{}}
		for _, f := range fixtures {
			if f.Site == site.ID {
				card.Fixtures = append(card.Fixtures, d.fixtureCard(f))
			}
		}
		home.Sites = append(home.Sites, card)
	}
	return home, nil
}

func (d *Desk) fixtureCard(f *record.FixtureState) FixtureCard {
	card := FixtureCard{
		ID: f.ID, Site: f.Site, Name: f.Name, Place: f.Place, Tag: f.Tag,
		Mark: fixtureMark(f), Says: d.fixtureSays(f), Conflicts: len(f.Conflicting()),
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
