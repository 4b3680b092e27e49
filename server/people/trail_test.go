package people

import (
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"

	"jointwalk/server/store"
)

// audited are rows that hold the gate to its trail: what it keeps without an audit line is what devices told, no more.
type audited struct {
	store.Rows
	t *testing.T
}

// noted lets through only the table that may be written without an audit line.
type noted struct {
	store.RowWriter
	t *testing.T
}

func (n noted) Put(table, id string, row []byte) error {
	if table != tablePhones {
		n.t.Errorf("%s %s is written without an audit line", table, id)
	}
	return n.RowWriter.Put(table, id, row)
}

func (n noted) Drop(table, id string) error {
	n.t.Errorf("%s %s is dropped without an audit line", table, id)
	return n.RowWriter.Drop(table, id)
}

func (a *audited) Keep(do func(store.RowWriter) error) error {
	return a.Rows.Keep(func(w store.RowWriter) error { return do(noted{w, a.t}) })
}

// reads are the methods that change no row.
var reads = []string{"Devices", "Enrolled", "Installation", "Invited", "Lost", "NeedsSetup", "Pending", "People", "Person", "ReceiptKey", "Session", "SetupCode", "Sites", "Writer"}

// scene is what the changes of a trail are made to.
type scene struct {
	*door
	boss, other Visit
	token       string // the other's
	host        Visit  // whose phone the mate shares
	hostToken   string
	mate        Person
	site        Site
	in          Invitation
}

// changes do each method that changes rows once, with the audit line that it must leave: by, what, about.
var changes = map[string]func(s *scene) (by, what, about string, err error){
	"Setup": func(s *scene) (string, string, string, error) {
		own := newDoor(s.t)
		*s.door = *own
		v, _, err := own.Setup(own.SetupCode(), "Somebody", "Desk")
		return v.Person.ID, "person came in", v.Person.ID, err
	},
	"Invite": func(s *scene) (string, string, string, error) {
		_, err := s.Invite(s.boss.Person.ID, "New one", Grants{s.site.ID: {Engineer}})
		return s.boss.Person.ID, "invited: engineer gained at " + s.site.ID, "?", err
	},
	"InviteDevice": func(s *scene) (string, string, string, error) {
		_, err := s.InviteDevice(s.boss.Person.ID, s.other.Person.ID)
		return s.boss.Person.ID, "device invited", s.other.Person.ID, err
	},
	"Pair": func(s *scene) (string, string, string, error) {
		v, _, err := s.Pair(s.in.Code, "Phone")
		return v.Person.ID, "person came in", v.Person.ID, err
	},
	"Join": func(s *scene) (string, string, string, error) {
		p, err := s.Join(s.token, s.in.Code)
		return s.other.Person.ID, "device shared with " + p.ID, s.other.Device.ID, err
	},
	"Part": func(s *scene) (string, string, string, error) {
		return s.host.Person.ID, "device shared no more with " + s.mate.ID, s.host.Device.ID, s.Part(s.hostToken, s.mate.ID)
	},
	"Leave": func(s *scene) (string, string, string, error) {
		return s.other.Person.ID, "session ended", s.other.Device.ID, s.Leave(s.token)
	},
	"Revoke": func(s *scene) (string, string, string, error) {
		return s.boss.Person.ID, "device revoked", s.other.Device.ID, s.Revoke(s.boss.Person.ID, s.other.Device.ID)
	},
	"RevokeAll": func(s *scene) (string, string, string, error) {
		return s.boss.Person.ID, "all devices revoked", s.other.Person.ID, s.RevokeAll(s.boss.Person.ID, s.other.Person.ID)
	},
	"Erase": func(s *scene) (string, string, string, error) {
		return s.boss.Person.ID, "name erased, devices revoked", s.other.Person.ID, s.Erase(s.boss.Person.ID, s.other.Person.ID)
	},
	"ChangePerson": func(s *scene) (string, string, string, error) {
		_, err := s.ChangePerson(s.boss.Person.ID, s.other.Person.ID, Everywhere(Engineer))
		return s.boss.Person.ID, "person changed: technician lost at *, engineer gained at *", s.other.Person.ID, err
	},
	"AddPerson": func(s *scene) (string, string, string, error) {
		p, err := s.AddPerson(s.boss.Person.ID, "Another", Grants{s.site.ID: {Engineer}})
		return s.boss.Person.ID, "person added: engineer gained at " + s.site.ID, p.ID, err
	},
	"AddSite": func(s *scene) (string, string, string, error) {
		site, err := s.AddSite(s.boss.Person.ID, Site{Name: "Another plant", Zone: "UTC"})
		return s.boss.Person.ID, "site added", site.ID, err
	},
	"ChangeSite": func(s *scene) (string, string, string, error) {
		renamed := "Other"
		_, err := s.ChangeSite(s.boss.Person.ID, s.site.ID, SiteChange{Name: &renamed})
		return s.boss.Person.ID, "site changed", s.site.ID, err
	},
	"Meet": func(s *scene) (string, string, string, error) {
		_, err := s.Meet(s.other.Device.ID, "log-1", 1, nil, holds(nil))
		_, err2 := s.Meet(s.other.Device.ID, "log-1", 2, nil, holds(nil))
		return s.other.Person.ID, "log begun log-1", s.other.Device.ID, errors.Join(err, err2)
	},
}

// Each method of the gate either changes nothing, or leaves one line of the trail: by whom, what, and to what.
func TestEveryChangeIsInTheTrail(t *testing.T) {
	gate := reflect.TypeFor[*Gate]()
	for i := range gate.NumMethod() {
		name := gate.Method(i).Name
		change, changing := changes[name]
		if reading := slices.Contains(reads, name); reading == changing {
			t.Errorf("%s is to stand either with those that change or with those that read", name)
		}
		if changing {
			t.Run(name, func(t *testing.T) { leavesALine(t, change) })
		}
	}
}

func leavesALine(t *testing.T, change func(*scene) (by, what, about string, err error)) {
	s := &scene{door: newDoor(t)}
	s.boss, _ = s.first()
	s.other, s.token = s.pair()
	s.site.ID = s.plant("Plant")
	s.host, s.hostToken = s.pair()
	var err error
	if s.mate, err = s.Join(s.hostToken, s.invite().Code); err != nil {
		t.Fatal(err)
	}
	s.in = s.invite()
	s.door.Gate.rows = &audited{s.door.Gate.rows, t}
	before, rows := len(s.trail()), s.door.rows
	by, what, about, err := change(s)
	if err != nil {
		t.Fatal(err)
	}
	if s.door.rows != rows {
		before = 2 // of the new house: itself and its key
	}
	audits, err := s.door.rows.Audits(uint64(before), 9)
	if err != nil || len(audits) != 1 || audits[0].By != by || audits[0].What != what || about != "?" && audits[0].About != about {
		t.Errorf("%+v, %v, want %s | %s | %s", audits, err, by, what, about)
	}
}

// No line of the trail holds a name, only ids; whoever comes in has the id under which they were invited.
func TestTheTrailHoldsNoNames(t *testing.T) {
	d := newDoor(t)
	erasable(d)
	audits, err := d.rows.Audits(0, 99)
	if err != nil {
		t.Fatal(err)
	}
	about := map[string]string{}
	for _, a := range audits {
		if strings.Contains(a.By+a.What+a.About, "Ada") {
			t.Errorf("%+v", a)
		}
		word, _, _ := strings.Cut(a.What, ":")
		about[word] = a.About
	}
	if about["invited"] == "" || about["invited"] != about["person came in"] {
		t.Errorf("%v", about)
	}
}
