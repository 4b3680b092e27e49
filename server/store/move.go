package store

import "jointwalk/sync/exchange"

// Place is where a fixture is, as its moves told in the order of their arrival.
type Place struct {
	Site string `json:"site"` // "" before its first move: then it is wherever its events say
	// Whole says of the sites that it has left: their feeds hold all of its first so many events.
	Whole map[string]uint64 `json:"whole,omitempty"`
}

// enter puts an event into the feeds where it belongs: that of its own site, that of the site where its fixture is, and
// that of the site to which it moves its fixture, which first gets what it lacks of the fixture's past. No feed gets
// an event twice.
func enter(l Ledger, item *exchange.Incoming, beside bool) error {
	about := &item.Event.About
	if about.Fixture == "" {
		_, err := l.Append(item, beside, about.Site)
		return err
	}
	place, err := l.Place(about.Fixture)
	if err != nil {
		return err
	}
	moves := item.To != "" && item.To != place.Site
	if moves {
		if err := l.Copy(about.Fixture, place.Whole[item.To], item.To); err != nil {
			return err
		}
	}
	sites := []string{about.Site}
	for _, also := range []string{place.Site, item.To} {
		sites = with(sites, also)
	}
	count, err := l.Append(item, beside, sites...)
	if err != nil || !moves {
		return err
	}
	return l.SetPlace(about.Fixture, place.moved(item.To, count))
}

// with adds a site that is not "" and not there yet.
func with(sites []string, site string) []string {
	for _, have := range sites {
		if site == have {
			return sites
		}
	}
	if site == "" {
		return sites
	}
	return append(sites, site)
}

// moved is the place after a move, which is the fixture's event number count.
func (p Place) moved(to string, count uint64) Place {
	whole := map[string]uint64{}
	for site, n := range p.Whole {
		whole[site] = n
	}
	delete(whole, to)
	if p.Site != "" {
		whole[p.Site] = count
	}
	return Place{Site: to, Whole: whole}
}
