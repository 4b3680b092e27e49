package people

import (
	"strings"
	"time"

	"jointwalk/server/store"
)

// setupLife is how long a setup code holds.
const setupLife = 10 * time.Minute

// setup is the code for the first person; empty when there is somebody.
type setup struct {
	code  string
	until time.Time
}

func (g *Gate) mintSetup() error {
	needed, err := g.NeedsSetup()
	if err != nil || !needed {
		return err
	}
	code, err := g.secret(setupLength)
	if err != nil {
		return err
	}
	g.setup = setup{code: code, until: g.now().Add(setupLife)}
	return nil
}

// SetupCode is the code that makes the first person, "" when there is somebody.
// It goes to the terminal and nowhere else.
func (g *Gate) SetupCode() string {
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.setup.code
}

// NeedsSetup says whether nobody is there yet.
func (g *Gate) NeedsSetup() (bool, error) {
	people, err := g.People()
	return len(people) == 0, err
}

// Setup makes the first person, with all duties at every site, and a session.
// The code holds once, for ten minutes from the start of the server.
func (g *Gate) Setup(code, person, device string) (Visit, string, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	switch {
	case g.setup.code == "":
		return Visit{}, "", &Fault{SetupDone}
	case !same(hash(plain(code)), hash(g.setup.code)):
		return Visit{}, "", &Fault{SetupCode}
	case g.now().After(g.setup.until):
		return Visit{}, "", &Fault{SetupExpired}
	}
	visit, token, err := g.newcomer("", person, device, Everywhere(AllDuties()...), nil)
	if err == nil {
		g.setup = setup{}
	}
	return visit, token, err
}

// newcomer makes a person, a device and a session in one change, with what
// else belongs to it. The id is drawn when it is "".
func (g *Gate) newcomer(id, person, device string, grants Grants, also func(store.RowWriter) error) (Visit, string, error) {
	v, token, err := g.draft(id, person, device, grants)
	if err != nil {
		return Visit{}, "", err
	}
	err = g.change(v.Person.ID, "person came in", v.Person.ID, func(w store.RowWriter) error {
		if also != nil {
			if err := also(w); err != nil {
				return err
			}
		}
		if err := put(w, tablePeople, v.Person.ID, v.Person); err != nil {
			return err
		}
		return enter(w, v, token)
	})
	if err != nil {
		return Visit{}, "", err
	}
	return v, token, nil
}

// another makes one more device of a person who is here, and a session.
func (g *Gate) another(person, device string, also func(store.RowWriter) error) (Visit, string, error) {
	var v Visit
	made, token, err := g.draftDevice(person, device)
	if err != nil {
		return Visit{}, "", err
	}
	err = g.change(person, "device added", made.ID, func(w store.RowWriter) error {
		if err := also(w); err != nil {
			return err
		}
		if err := get(w, tablePeople, person, &v.Person); err != nil {
			return orElse(err, UnknownPerson)
		}
		if !v.Person.Erased.IsZero() {
			return &Fault{PersonErased}
		}
		v.Device = made
		return enter(w, v, token)
	})
	if err != nil {
		return Visit{}, "", err
	}
	return v, token, nil
}

// draft checks names and draws ids, that of the person unless there is one; nothing is kept yet.
func (g *Gate) draft(id, person, device string, grants Grants) (Visit, string, error) {
	personName, err := name(person)
	if err != nil {
		return Visit{}, "", err
	}
	if id == "" {
		if id, err = g.newID(); err != nil {
			return Visit{}, "", err
		}
	}
	made, token, err := g.draftDevice(id, device)
	return Visit{Person: Person{ID: id, Name: personName, Grants: grants, Made: made.Made}, Device: made}, token, err
}

// draftDevice is a device of a person, and the token of its session.
func (g *Gate) draftDevice(person, device string) (Device, string, error) {
	deviceName, err := name(device)
	if err != nil {
		return Device{}, "", err
	}
	id, err := g.newID()
	if err != nil {
		return Device{}, "", err
	}
	token, err := g.secret(sessionLength)
	return Device{ID: id, Person: person, People: []string{person}, Name: deviceName, Made: g.now().UTC()}, token, err
}

// AddPerson makes a person who has no device, such as those of the example.
func (g *Gate) AddPerson(by, person string, grants Grants) (Person, error) {
	v, _, err := g.draft("", person, "none", grants)
	if err != nil {
		return Person{}, err
	}
	what := "person added: " + strings.Join(differences(nil, grants), ", ")
	err = g.change(by, what, v.Person.ID, func(w store.RowWriter) error {
		return put(w, tablePeople, v.Person.ID, v.Person)
	})
	return v.Person, err
}
