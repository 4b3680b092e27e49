package people

import (
	"time"

	"jointwalk/server/store"
)

// SiteChange is what a change of a site changes; nil leaves as it is.
type SiteChange struct{ Name, Place, Zone *string }

// Sites lists all sites by the time they were added.
func (g *Gate) Sites() ([]Site, error) { return all[Site](g.rows, tableSites) }

// AddSite adds a site; its id is made here.
func (g *Gate) AddSite(by string, site Site) (Site, error) {
	id, err := g.newID()
	if err != nil {
		return Site{}, err
	}
	site.ID = id
	if site, err = checkSite(site); err != nil {
		return Site{}, err
	}
	err = g.change(by, "site added", id, func(w store.RowWriter) error { return put(w, tableSites, id, site) })
	return site, err
}

// ChangeSite changes a site's name, place or zone.
func (g *Gate) ChangeSite(by, id string, change SiteChange) (Site, error) {
	var site Site
	err := g.change(by, "site changed", id, func(w store.RowWriter) error {
		if err := get(w, tableSites, id, &site); err != nil {
			return err
		}
		set(&site.Name, change.Name)
		set(&site.Place, change.Place)
		set(&site.Zone, change.Zone)
		var err error
		if site, err = checkSite(site); err != nil {
			return err
		}
		return put(w, tableSites, id, site)
	})
	if err != nil {
		return Site{}, orElse(err, UnknownSite)
	}
	return site, nil
}

func set(field *string, value *string) {
	if value != nil {
		*field = *value
	}
}

func checkSite(site Site) (Site, error) {
	var err error
	if site.Name, err = name(site.Name); err != nil {
		return site, err
	}
	if site.Place != "" {
		if site.Place, err = name(site.Place); err != nil {
			return site, err
		}
	}
	if _, err := time.LoadLocation(site.Zone); err != nil || site.Zone == "" || site.Zone == "Local" {
		return site, &Fault{BadZone}
	}
	return site, nil
}
