package people

import (
	"encoding/json"
	"slices"
)

// Grants says what a person does where: site id, or EverySite → duties. A person may do one thing here and another there; what
// is granted for every site holds at each.
type Grants map[string][]string

// Everywhere grants the same duties at all sites, later ones too.
func Everywhere(duties ...string) Grants { return Grants{EverySite: duties} }

// Duties are all that somebody does anywhere, in the order of AllDuties.
func (g Grants) Duties() (duties []string) {
	for _, duty := range AllDuties() {
		for _, here := range g {
			if slices.Contains(here, duty) {
				duties = append(duties, duty)
				break
			}
		}
	}
	return duties
}

// At says whether somebody with these grants works at a site.
func (g Grants) At(site string) bool { return len(g[EverySite]) > 0 || len(g[site]) > 0 }

// with are these grants after a change, which speaks of some sites; at those left out nothing changes. A change to no
// duties takes all of a site away.
func (g Grants) with(change Grants) Grants {
	after := Grants{}
	for _, some := range []Grants{g, change} {
		for site, duties := range some {
			after[site] = duties
		}
	}
	for site, duties := range after {
		if len(duties) == 0 {
			delete(after, site)
		}
	}
	return after
}

// checkGrants refuses unknown duties and sites.
func (g *Gate) checkGrants(grants Grants) error {
	have, err := g.Sites()
	if err != nil {
		return err
	}
	known := AllDuties()
	for site, duties := range grants {
		if slices.ContainsFunc(duties, func(d string) bool { return !slices.Contains(known, d) }) {
			return &Fault{BadDuty}
		}
		if site != EverySite && !slices.ContainsFunc(have, func(s Site) bool { return s.ID == site }) {
			return &Fault{BadSite}
		}
	}
	return nil
}

// UnmarshalJSON reads rows of earlier builds too, in which the same duties held at each of a person's sites.
func (p *Person) UnmarshalJSON(raw []byte) error {
	type row Person
	read := struct {
		*row
		Duties []string `json:"duties"`
		Sites  []string `json:"sites"`
	}{row: (*row)(p)}
	if err := json.Unmarshal(raw, &read); err != nil {
		return err
	}
	if p.Grants == nil {
		p.Grants = Grants{}
		for _, site := range read.Sites {
			p.Grants[site] = read.Duties
		}
	}
	return nil
}
