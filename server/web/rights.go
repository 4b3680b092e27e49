package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"jointwalk/sync/record"
)

// need is what a caller must have.
type need int

const (
	anyone     need = iota + 1 // nothing
	session                    // a person with a device
	supervisor                 // a person with that duty, at the site in question where there is one
)

// reach says what of a site a route has to do with, and how that of another site is refused.
type reach int

const (
	nowhere reach = iota // nothing of a site
	named                // the request names a site: wrong-site where the caller does not work there
	hidden               // it names something of a site: not known where the caller does not work there
	sifted               // the answer holds what belongs to the caller's sites, and no more
	own                  // it is one's own, and for supervisors of all sites of its person
	judged               // it brings events, each judged by itself and set aside where it may not be
)

// right is who may use a route, and what of a site is behind it.
type right struct {
	need  need
	reach reach
}

// calcRow is the row of all calculations, which are a table of their own.
const calcRow = "POST /api/calc/…"

// rights is the matrix of duty, route and site. A route that is not in it, and a row without a route, keep the server from
// starting; tests try each row with each duty, at the caller's sites and at others.
var rights = map[string]right{
	"GET /*":                {anyone, nowhere},
	"HEAD /*":               {anyone, nowhere},
	"GET /healthz":          {anyone, nowhere},
	"GET /schema/:name":     {anyone, nowhere},
	"GET /api/openapi.json": {anyone, nowhere},
	"GET /api/hello":        {anyone, nowhere},
	"POST /api/setup":       {anyone, nowhere},
	"POST /api/pair":        {anyone, nowhere},

	"GET /api/me":               {session, sifted},
	"POST /api/leave":           {session, nowhere},
	"POST /api/mates":           {session, nowhere},
	"POST /api/mates/:id/leave": {session, nowhere},
	"GET /api/sites":            {session, sifted},

	"POST /api/ask/home":      {session, sifted},
	"POST /api/ask/findings":  {session, sifted},
	"POST /api/ask/conflicts": {session, sifted},
	"POST /api/ask/tag":       {session, sifted},
	"POST /api/ask/fixture":   {session, hidden},
	"POST /api/ask/round":     {session, hidden},
	"POST /api/ask/finding":   {session, hidden},
	"POST /api/ask/estimate":  {session, hidden},
	"POST /api/ask/watch":     {session, hidden},
	"POST /api/ask/measure":   {session, nowhere},
	calcRow:                   {session, nowhere},

	"POST /api/meet":      {session, sifted},
	"POST /api/frontiers": {session, nowhere},
	"POST /api/push":      {session, judged},
	"POST /api/fill":      {session, judged},
	"POST /api/import":    {session, judged},
	"GET /api/pull":       {session, named},
	"GET /api/stream":     {session, sifted},
	"GET /api/older":      {session, hidden},

	"GET /api/pictures/:hash":         {session, hidden},
	"HEAD /api/pictures/:hash":        {session, hidden},
	"GET /api/pictures/:hash/part":    {session, nowhere},
	"PATCH /api/pictures/:hash":       {session, nowhere},
	"GET /api/fixtures/:id/label.pdf": {session, hidden},
	"GET /api/card.pdf":               {session, nowhere},
	"GET /api/tags/blank.pdf":         {supervisor, nowhere}, // codes that nothing carries yet

	"GET /api/asides":               {session, sifted},
	"POST /api/asides/:hash/accept": {supervisor, hidden},
	"POST /api/asides/:hash/settle": {session, hidden},

	"GET /api/people":              {supervisor, sifted},
	"PATCH /api/people/:id":        {supervisor, named},
	"POST /api/people/:id/devices": {session, own},
	"POST /api/people/:id/erase":   {supervisor, named},
	"POST /api/people/:id/revoke":  {supervisor, named},
	"GET /api/invitations":         {supervisor, sifted},
	"GET /api/invitations/:id":     {session, own},
	"POST /api/invitations":        {supervisor, named},
	"POST /api/sites":              {supervisor, named}, // a new one belongs to those who supervise at all
	"PATCH /api/sites/:id":         {supervisor, named},
	"GET /api/upkeep":              {supervisor, sifted},
	"GET /api/devices":             {session, nowhere},
	"POST /api/devices/:id/revoke": {session, own},
}

// The duties.
const (
	technician = "technician"
	engineer   = "engineer"
	supervises = "supervisor"
)

// writers says which duties may write each kind of event; one is enough. What anybody else writes is set aside, and a
// supervisor of its site may let it in. What somebody else wrote is corrected by supervisors only: see mayCorrect. A kind that this server does not know yet passes: a later one knows who may.
var writers = map[record.Kind][]string{
	record.FixtureRegistered: {technician, supervises}, // see mayBegin
	record.FixtureEdited:     {supervises},
	record.FixtureMoved:      {supervises},
	record.ProgramSet:        {technician, supervises}, // see mayBegin
	record.JointAdded:        {technician, supervises}, // see mayBegin
	record.JointEdited:       {supervises},
	record.JointRetired:      {supervises},
	record.RoundStarted:      {technician, supervises},
	record.RoundEnded:        {technician, supervises},
	record.LookMade:          {technician, supervises},
	record.LookAmended:       {technician, supervises},
	record.FindingMended:     {technician, supervises},
	record.Withdrawn:         {technician, supervises, engineer},
	record.PictureAdded:      {technician, supervises, engineer},
	record.FindingReviewed:   {engineer, supervises},
	record.NoteAdded:         {technician, supervises, engineer},
}

// mayWrite tells whether a person's duties at a site allow a kind of event there.
func (p Person) mayWrite(kind record.Kind, site string) bool {
	duties, known := writers[kind]
	return !known || slices.ContainsFunc(duties, func(duty string) bool { return p.does(duty, site) })
}

func rightOf(route string) right { return rights[rowOf(route)] }

// rowOf is the row of the matrix that a route belongs to.
func rowOf(route string) string {
	if strings.HasPrefix(route, strings.TrimSuffix(calcRow, "…")) {
		return calcRow
	}
	return route
}

// checkRights holds the routes against the matrix.
func (s *Server) checkRights() error {
	used := map[string]bool{}
	for _, r := range s.echo.Routes() {
		row := rowOf(r.Method + " " + r.Path)
		if _, known := rights[row]; !known {
			return fmt.Errorf("web: %s has no row in the matrix of rights", row)
		}
		used[row] = true
	}
	for row := range rights {
		if !used[row] {
			return fmt.Errorf("web: %s has a row in the matrix of rights and is no route", row)
		}
	}
	return nil
}

// everywhere stands for all sites, later ones too.
const everywhere = "*"

// has tells whether a person has a duty somewhere.
func (p Person) has(duty string) bool {
	for _, duties := range p.Grants {
		if slices.Contains(duties, duty) {
			return true
		}
	}
	return false
}

// does tells whether a person has a duty at a site; everywhere asks for all, later ones too.
func (p Person) does(duty, site string) bool {
	return slices.Contains(p.Grants[everywhere], duty) || slices.Contains(p.Grants[site], duty)
}

// duties are what a person does at some sites, in the order of the list above; wherever, when none is named.
func (p Person) duties(sites ...string) []string {
	return slices.DeleteFunc([]string{technician, supervises, engineer}, func(duty string) bool {
		return len(sites) == 0 && !p.has(duty) || len(sites) > 0 && !slices.ContainsFunc(sites, func(site string) bool { return p.does(duty, site) })
	})
}

// at tells whether a person works at a site; everywhere asks for all.
func (p Person) at(site string) bool { return len(p.Grants[everywhere]) > 0 || len(p.Grants[site]) > 0 }

// near tells whether a person supervises at one of the sites of some grants; who works everywhere works there too.
func (p Person) near(grants Grants) bool {
	if p.does(supervises, everywhere) {
		return true
	}
	for site := range grants {
		if site == everywhere && p.has(supervises) || p.does(supervises, site) {
			return true
		}
	}
	return false
}

// oversees tells whether a person supervises at all sites of some grants.
func (p Person) oversees(grants Grants) bool {
	for site := range grants {
		if !p.does(supervises, site) {
			return false
		}
	}
	return true
}

func wrongSite() *Problem {
	return refuse(http.StatusForbidden, "wrong-site", "the caller does not do this at this site")
}
