package summary

import (
	"jointwalk/sync/lightjson"
	"jointwalk/sync/record"
)

// Names are what events do not hold: the names of sites and people. Sites are
// those that the reader may see, in the order to show.
type Names struct {
	Sites  []SiteName
	People map[string]string
}

// SiteName names a site.
type SiteName struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// Desk is where questions are answered: a book and the names that go with it.
// It reads the book and must not be used while the book changes. Now is the time of
// asking in ms since 1970; 0 is not known, and then no round is called left open.
type Desk struct {
	Book  *record.Book
	Names Names
	Now   int64
	Shelf *Shelf // nil where cards are made each time
	memo  map[remembered]Estimate
}

// NewDesk returns a desk that remembers the estimates it made; one without
// memory is made by a literal.
func NewDesk(book *record.Book, names Names) *Desk {
	return &Desk{Book: book, Names: names, memo: map[remembered]Estimate{}}
}

// The codes of a Fault.
const (
	UnknownFixture  = "unknown-fixture"
	UnknownRound    = "unknown-round"
	UnknownFinding  = "unknown-finding"
	UnknownQuestion = "unknown-question"
	BadQuestion     = "bad-question"
)

// Fault is a question that has no answer: a stable code and, for a bad
// question, the field.
type Fault struct {
	Code  string
	Field string
}

// Error gives code and field; people read the catalogue's words instead.
func (f *Fault) Error() string { return "summary: " + f.Code + " " + f.Field }

// questions is the table of questions by name.
var questions = map[string]func(*Desk, []byte) (any, error){
	"home":     asking((*Desk).Home),
	"tag":      asking((*Desk).Tag),
	"fixture":  asking((*Desk).Fixture),
	"round":    asking((*Desk).Round),
	"findings": asking((*Desk).Findings),
	"finding":  asking((*Desk).Finding),
	"estimate": asking((*Desk).Estimate),
	"watch":    asking((*Desk).Watch),
	"measure":  asking((*Desk).Measure),

	"conflicts": asking((*Desk).Conflicts),
}

// asking turns a typed question into one of JSON.
func asking[Q, A any](answer func(*Desk, Q) (A, error)) func(*Desk, []byte) (any, error) {
	return func(d *Desk, in []byte) (any, error) {
		var q Q
		if err := lightjson.Unmarshal(in, &q); err != nil {
			return nil, &Fault{Code: BadQuestion}
		}
		return answer(d, q)
	}
}

// Ask answers a question by name, with its arguments as JSON. Errors are
// *Fault.
func Ask(d *Desk, question string, in []byte) (any, error) {
	answer, known := questions[question]
	if !known {
		return nil, &Fault{Code: UnknownQuestion, Field: question}
	}
	return answer(d, in)
}

// sees says whether the reader may see a site.
func (d *Desk) sees(site string) bool {
	for _, s := range d.Names.Sites {
		if s.ID == site {
			return true
		}
	}
	return false
}

func (d *Desk) siteName(id string) string {
	for _, s := range d.Names.Sites {
		if s.ID == id {
			return s.Name
		}
	}
	return ""
}

// clockSlack is how far a clock may be off before it is said, in ms. Common
// practice, no source.
const clockSlack = 5 * 60_000

func (d *Desk) stamp(by record.By) Stamp {
	s := Stamp{By: by.Person, Name: d.Names.People[by.Person], Time: by.Time}
	if off := by.Offset(); off > clockSlack || off < -clockSlack {
		s.ClockOff = int(off / 60_000)
	}
	return s
}

// seen returns a fixture if it exists and the reader may see its site.
func (d *Desk) seen(f *record.FixtureState, code string) (*record.FixtureState, error) {
	if f == nil || !d.sees(f.Site) {
		return nil, &Fault{Code: code}
	}
	return f, nil
}
